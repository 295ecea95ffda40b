package beam

// answer solves the beam.
func answer(p problem) (Result, error) {
	r := p.describe()
	if r.Refused = p.notABeam(r); r.Refused != "" {
		r.Warnings = append(r.Warnings, r.Refused)
		return r, nil
	}
	f, err := p.frameOf(p.stations())
	if err != nil {
		return Result{}, err
	}
	bar, err := p.torsionBar()
	if err != nil {
		return Result{}, err
	}
	give, err := p.give(f, bar)
	if err != nil {
		return Result{}, err
	}
	if why := p.twistsOpenly(f, bar, give); why != "" {
		r.Refused = why
		r.Warnings = append(r.Warnings, why)
		return r, nil
	}
	k := 1 / give
	r.Stiffness = &k
	if r.MethodError, err = p.methodError(give, bar); err != nil {
		return Result{}, err
	}
	steps := []func(*frame, *torsionBar, *Result) error{p.loads}
	if !p.setup.StaticOnly {
		steps = append(steps, p.frequencies, p.buckling)
	}
	r.Warnings = append(r.Warnings, p.shapeWarnings(r)...)
	for _, step := range steps {
		if err := step(f, bar, &r); err != nil {
			return Result{}, err
		}
	}
	return r, nil
}

// describe fills in what the setup amounts to and the beam's shape.
func (p problem) describe() Result {
	s, w := p.setup, p.where
	r := Result{
		YoungsModulus: p.elastic.YoungsModulus,
		Support:       s.Support.String(),
		Span:          w.To - w.From,
		Direction:     s.Load.String(), SpanAxis: s.Span.String(),
		From: w.model(w.From), To: w.model(w.To), LoadAt: w.model(w.At),
		Warnings: []string{},
		Cuts:     p.profile.count(), IntegrationPct: 100 * p.profile.error,
	}
	if s.Force != 0 {
		r.Load = &s.Force
	}
	for c := range p.profile.cuts() {
		if !p.strained(c.S) {
			continue
		}
		size := reachOf(c, p.plane)
		r.Depth, r.Width = max(r.Depth, size.high[0]-size.low[0]), max(r.Width, size.high[1]-size.low[1])
	}
	r.Slenderness = w.arm(s.Support) / r.Depth
	return r
}
