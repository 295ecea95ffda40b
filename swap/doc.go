// Package swap decides: what the redesign saves, how stiff and strong both
// parts are, what the saved mass buys and costs, how sure that is, and which
// unchecked assumption would turn the answer over.
//
// A comparison goes through seven steps. Each is one function that takes what earlier
// steps made and returns a value that nobody changes afterwards; what it took where the
// person said nothing, and what it warns of, is returned with it:
//
//	Case         two meshes, what is known of them, and what is asked
//	  |
//	  | 1 measure    volume, tolerance and material of both; what the mill will leave
//	  v
//	measured     each part in the frame of its own file
//	  |
//	  | 2 place      frame and fit; span, support and loads; what moves
//	  v
//	placed       both parts in one frame, with the same load cases on each
//	  |
//	  | 3 respond    three-dimensional elasticity on the first, coarse grids
//	  v
//	responses    stiffness, stress and frequency, free of the material
//	  |
//	  | 4 judge      all of it as ranges, drawn and held against the criteria; finer
//	  v              grids where these are left open; cost and bolts
//	judged       the inputs of the judgement, and what they come to
//	  |
//	  | 5 answer     what could stand in place of what was assumed, judged again
//	  v
//	answer       the verdict, what would turn it, what looks like a slip
//	  |
//	  | 6 show       the redesign as made in each respect; pictures; what would do less
//	  v
//	shown        what is only looked at beside the answer
//	  |
//	  | 7 say        nothing is solved any more
//	  v
//	Result       numbers, reasons, the next step
//
// # Reading order
//
// Begin with decide.go, which has the steps. Then from the top down: a file uses what the
// lines above its own declare, and in its own line what the files after it do. A test
// holds that.
//
//	for all     remarks.go each.go memo.go text.go range.go vector.go sides.go
//	the case    case.go loads.go making.go limits.go drive.go
//	1 measure   measure.go lengths.go variants.go millable.go known.go tolerance.go
//	            shape.go solver.go
//	2 place     place.go loading.go places.go frame.go loadcase.go partinputs.go
//	            placedpart.go
//	3 respond   respond.go sizes.go solve.go beams.go mechanics.go response.go
//	4 judge     judge.go secondopinion.go refine.go cost.go bolted.go criteria.go goal.go
//	            demand.go demandmass.go demandcost.go demanddeflection.go
//	            demandfrequency.go criterion.go lots.go inputs.go streams.go
//	            money.go
//	5 answer    answer.go alternatives.go othermaterials.go poisson.go slips.go
//	            turnover.go
//	6 show      show.go asmade.go pictured.go lesser.go
//	7 say       say.go result.go words.go explore.go lasting.go drawing.go breakeven.go
//	            drivers.go numbers.go
//	the steps   decide.go
//	several     rank.go needed.go together.go vary.go varysolve.go varyguess.go
//	            varytrial.go
package swap
