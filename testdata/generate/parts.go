package main

// The parts of a home-built sorter for bottle caps: an arm swings about its hub
// and pushes caps off a turntable; a plate carries the arm's motor.

// The arm's pivot is the z axis. Both arms share hub, tip and mounting holes.
func armHoles() []shape {
	return []shape{
		disc(0, 0, 10),   // pivot shaft
		disc(66, 0, 4.5), // position switch, M4 clearance
		disc(82, 0, 4.5),
		disc(133, 0, 6), // pusher pin
	}
}

func armBosses() (hub, tip area) {
	return area{disc(0, 0, 24), []shape{disc(0, 0, 10)}},
		area{disc(133, 0, 18), []shape{disc(133, 0, 6)}}
}

func armOld() part {
	hub, tip := armBosses()
	plan := area{armOutline(15, 24, 133), armHoles()}
	return part{"arm_old", "swing arm, 6 mm flat, hub to z 14, tip boss to z 12", []slab{
		{6, []area{plan}},
		{6, []area{hub, tip}},
		{2, []area{hub}},
	}}
}

func armNew() part {
	hub, tip := armBosses()
	outline := armOutline(15, 24, 133)
	middle := disc(74, 0, 8)
	floor := area{outline, append(armHoles(), middle,
		disc(28, 0, 8), disc(48, 0, 8), disc(104, 0, 8))}
	walls := area{outline, append(armHoles(), middle,
		roundedRectangle(38, 0, 40, 15, 3), roundedRectangle(104, 0, 28, 15, 3))}
	return part{"arm_new", "swing arm, 7 mm with two pockets 4 deep and four lightening holes, same hub, tip and holes", []slab{
		{3, []area{floor}},
		{4, []area{walls}},
		{5, []area{hub, tip}},
		{2, []area{hub}},
	}}
}

func plateHoles() []shape {
	return []shape{
		disc(10, 10, 6.6), disc(100, 10, 6.6), disc(100, 70, 6.6), disc(10, 70, 6.6), // M6 clearance
		disc(35, 40, 5.5), disc(75, 40, 5.5), // M5 clearance
		disc(55, 40, 22), // motor spigot
	}
}

func plateOld() part {
	plan := area{roundedRectangle(55, 40, 110, 80, 8), plateHoles()}
	return part{"plate_old", "motor plate 110 x 80 x 5", []slab{{5, []area{plan}}}}
}

func plateNew() part {
	outline := roundedRectangle(55, 40, 110, 80, 8)
	light := []shape{disc(19, 40, 14), disc(91, 40, 14)}
	pockets := []shape{roundedRectangle(55, 14, 40, 18, 4), roundedRectangle(55, 66, 40, 18, 4)}
	holes := append(plateHoles(), light...)
	return part{"plate_new", "motor plate 110 x 80 x 4 with two pockets 2 deep and two lightening holes, same holes", []slab{
		{2, []area{{outline, holes}}},
		{2, []area{{outline, append(append([]shape(nil), holes...), pockets...)}}},
	}}
}
