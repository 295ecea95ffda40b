// The form's fields by the names of their flags, and small helpers.
export const form = document.getElementById("question");
export const slots = [document.getElementById("old"), document.getElementById("new")];

export const value = (name) => form.elements[name]?.value.trim() ?? "";

// words of a field that holds several, such as the places that are held.
export const words = (name) => value(name).split(/\s+/).filter(Boolean);

export function setValue(name, text) {
  const field = form.elements[name];
  field.value = text;
  field.closest("details")?.setAttribute("open", "");
  field.dispatchEvent(new Event("input", { bubbles: true }));
}

// make builds an element; text is never read as markup.
export function make(tag, properties = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, v] of Object.entries(properties)) {
    if (name in element) {
      element[name] = v;
    } else {
      element.setAttribute(name, v);
    }
  }
  element.append(...children);
  return element;
}

// unpack reads a packet of the server: the length of a JSON text, the text, then
// numbers of four bytes that the caller takes in turn.
export async function unpack(response) {
  const buffer = await response.arrayBuffer();
  const length = new DataView(buffer).getUint32(0, true);
  const head = JSON.parse(new TextDecoder().decode(new Uint8Array(buffer, 4, length)));
  let at = 4 + length;
  const take = (Kind) => (count) => {
    const numbers = new Kind(buffer, at, count);
    at += 4 * count;
    return numbers;
  };
  return { head, floats: take(Float32Array), naturals: take(Uint32Array), integers: take(Int32Array) };
}
