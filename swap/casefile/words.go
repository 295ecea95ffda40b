package casefile

import (
	"encoding"
	"fmt"
	"reflect"
	"strings"
)

// readWords lets the types that are text themselves read what the decoder stored past
// them, such as the units of answers, wherever they are in a structure of pointers.
func readWords(v reflect.Value, under string) error {
	for i := range v.NumField() {
		field, name := v.Field(i), under
		if key, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("toml"), ","); key != "" {
			name = strings.TrimPrefix(under+"."+key, ".")
		}
		if err := readWord(field, name); err != nil {
			return err
		}
	}
	return nil
}

func readWord(field reflect.Value, name string) error {
	switch field.Kind() {
	case reflect.Struct:
		return readWords(field, name)
	case reflect.Slice:
		for i := range field.Len() {
			if field.Type().Elem().Kind() == reflect.Struct && !readsText(field.Index(i).Addr()) {
				if err := readWords(field.Index(i), name); err != nil {
					return err
				}
			}
		}
	case reflect.Pointer:
		if !field.IsNil() && field.Elem().Kind() == reflect.String && readsText(field) {
			err := field.Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(field.Elem().String()))
			if err != nil {
				return fmt.Errorf("%s: %w", name, err)
			}
		}
	}
	return nil
}

func readsText(v reflect.Value) bool {
	_, ok := v.Interface().(encoding.TextUnmarshaler)
	return ok
}
