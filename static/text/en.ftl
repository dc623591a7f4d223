# The words of the book, English. One message a name; adding a language is adding a file.
# Lengths, angles and other values arrive as finished text with their units.

untitled = Round table that turns to open
subject = Plans for a round table that turns to open. { $revision }
attachment = The plan file from which this book was made; open it to change the table.
revision-dated = Revision { $mark }, { $date }
revision-undated = Revision { $mark }, not issued
figure = Figure
closed = Closed
open = Open
document-type = Part drawing
measured = { $name }, as measured
more-than = over { $value }

## Cover

cover = Cover
cover-sub = Plans for a round table that turns to open: { $sectors } panels, { $sectors } leaves and a star.
cover-alt = The table seen from above one corner, closed at { $closed } on the left and open at { $open } on the right, both at the same scale.
cover-check = Measure the bars on page { $page } before you trust any full-size drawing.
key-closed = Diameter, closed
key-open = Diameter, open
key-height = Height
key-sectors = Panels
fact-revision = Issue
fact-units = Units
fact-print = Print
units-mm = Millimetres; tables of sizes give inches too.
units-inch = Inches; tables of sizes give millimetres too.
units-both = Millimetres, with inches in brackets.

## Contents

contents-title = Contents

## Before you start

ready-title = Before you start
reading = How to read this book
reading-mm = Sizes are in millimetres unless another unit stands beside them. A figure in a drawing without a unit is in millimetres, rounded to { $step }.
reading-inch = Sizes are in inches unless another unit stands beside them. A figure in a drawing without a unit is in inches; fractions are rounded to { $fraction }.
reading-both = Sizes are in millimetres, rounded to { $step }, followed by inches in brackets, rounded to { $fraction }. Work in one of the two throughout: each is rounded for itself, and mixing them adds the roundings up.
reading-first = Drawings are in first-angle projection: what is seen from the left stands on the right of a view, and what is seen from above stands below it. The sign in each title block shows this.
reading-third = Drawings are in third-angle projection: what is seen from the left stands on the left of a view, and what is seen from above stands above it. The sign in each title block shows this.
reading-text-1 = ⌀ stands before a diameter and R before a radius. Angles are in degrees. Full lines are edges in sight, dashed lines are edges behind something, chain lines are centre lines and circles that help you find your place.
reading-text-2 = A part is a thing to make; the table may need several pieces of it. Every made part has its own sheet, and the parts list leads to it. Turns are counted from 0°, the closed table.
reading-text-3 = Do not scale distances off the drawings. Where a drawing is meant to be full size, first check your print with the bars on page { $page }.

cautions = Cautions
cautions-lead = This book describes a piece of furniture with moving parts, made with sharp and heavy tools. Read this page before the first cut, and again before the first turn. Where your local codes, the instructions of the makers of tools and materials, or the judgement of a licensed tradesperson say otherwise, follow them and not this book.
caution-workshop = Blades, cutters and dust
caution-workshop-text-1 = Fit and use the guards, fences and push sticks that belong to each machine. Unplug before you change a blade or cutter.
caution-workshop-text-2 = Grooves and tongues are cut close to edges and ends. Make a test piece from an offcut of the same thickness, and hold short pieces in a jig, never by hand alone.
caution-workshop-text-3 = Wear eye and ear protection. Collect dust at the machine and wear a mask made for fine dust; sheet stock and some hardwoods are harmful to breathe.
caution-workshop-text-4 = Finishes and glues may burn or give off fumes. Rags soaked in drying oil can catch fire by themselves: spread them flat outdoors to dry.
caution-lifting = Lifting and handling
caution-lifting-text-1 = The plates and the assembled top are heavy and awkward. Move them with a second person, and keep fingers from under edges when you set them down.
caution-lifting-text-2 = Lift the table by its frame, never by the panels: they slide.
caution-pinching = Pinching places of the turning top
caution-pinching-text-1 = While the top opens, gaps appear between the panels; while it closes, they shut. Anything left in a gap is cut or crushed, fingers first. Keep hands on the rim, and keep children away while it turns.
caution-pinching-text-2 = In the last { $last } of opening the panels come back in by { $back } and close on the leaves; at the same time nothing can be seen of the closing tongues. Do not feel for them.
caution-pinching-text-3 = Leaves and star rise from below by { $step } and twice that. Clear the table before you turn it, and never reach under it while somebody turns it.
caution-pinching-text-4 = Until panels and leaves are fitted, arms, slides and pins lie open and pass each other closely. Turn the bare mechanism slowly, by one person, who sees all of it.
caution-pinching-text-5 = Turn the top by the hand holds under the middles of the panels, never by an edge or a gap. The latch holds it closed and open; push through its catch with both hands on the holds.
pinch-title = Gaps that close on a finger
pinch-lead = Gaps that were found, by following every pair of parts over the whole turn, to close on a finger: wider than { $enters } at some moment, so that a finger enters, and then narrower than { $finger }, which a finger needs (ISO 13854, the gap against crushing a finger; { $enters } from furniture standards; both from memory). Guidance, not a safety assessment.
pinch-between = Gap between
pinch-turn = Turn
pinch-narrowest = Down to
pinch-way = While
pinch-reach = Reached
pinch-own = Neighbours: { $a }
pinch-two = { $a } and { $b }
pinch-opening = opening
pinch-closing = closing
pinch-above = from above
pinch-rim = at the rim
caution-tipping = Tipping when open
caution-tipping-text-1 = Open, the edge stands about { $overhang } outside the legs. Nobody may sit, kneel or lean with full weight on it, and no child may climb on it.
caution-tipping-text-2 = Before first use, load the open edge little by little and watch the far legs. Should they lift before the load you want is reached, make the frame wider or heavier.
caution-loads = Loads
caution-loads-text-1 = The plan assumes a load of { $load } at the open edge. That figure was chosen by the maker of the plan. It is an assumption, not the result of a test.
caution-loads-text-2 = Do not turn the table while it is laid. Things slide, and hot or sharp things slide worst.
caution-limits = What this book does not know
caution-limits-text-1 = It does not know your stock, your machines or your floor. Measure the stock you have, check each fit on a test piece, and stop when something does not agree.
caution-limits-text-2 = Codes for furniture in public rooms, for fire behaviour and for access may apply where the table stands. Ask those who know them.

## Check your print

print-title = Check your print
print-text-1 = Print this page first, at full size: in the print window choose “actual size” or 100 %, and nothing that fits or shrinks pages to the paper.
print-text-2 = Lay a steel rule on the bars. Outer edge to outer edge they are exactly 100 mm and 4 in, along and across the sheet. If a bar is off by more than half a millimetre (1/64 in), full-size drawings from this printer must not be used.
print-caption = Bars for checking the print. Measure from outer edge to outer edge.
bar-mm = 100 mm
bar-inch = 4 in
bar-square = The sides are 50 mm and the two diagonals are equal. If the diagonals differ, the sheet went through the printer askew.
bars-alt = Bars of exactly 100 mm and 4 in, across and along the page, and a square of 50 mm with its diagonals.

## The table

table-title = The table
table-what = What it is
table-what-text-1 = A round table of { $closed }. Turning its top clockwise by { $turn } pushes { $sectors } panels outward to { $open }, measured across the middles of the panels, and { $corner } across their corners.
table-what-text-2 = Between the panels gaps of { $gap } open. As many leaves, stored one level below, travel out with the panels and rise into the gaps; a star, stored one level lower still, rises into the middle. Open, all of them are flush.
table-skewed-text-1 = A round table of { $closed }. Turning its top clockwise by { $turn } pushes { $sectors } panels outward, each { $skew } off its own centre line, to { $open } across their farthest points and { $corner } across their farther corners.
table-skewed-text-2 = Between the panels gaps of { $gap } open, and neighbouring panels shift by { $shift } along them, so that the open edge runs like the teeth of a saw. As many leaves, stored one level below, travel out with the panels and rise into the gaps; a star, stored one level lower still, rises into the middle. Open, all of them are flush.
table-states = Three states
plan-closed-caption = Closed, from above. Dashed: leaves and star where they are stored. Scale about 1 : { $scale }.
plan-half-caption = Half-way. Panels and leaves are on their way out; nothing has risen yet.
plan-open-caption = Open. Panels have closed on the tongues of leaves and star.
plan-closed-alt = The closed top from above: { $sectors } panels meeting at the centre, { $diameter } across, with leaves and star dashed below them.
plan-half-alt = The top at half of its turn, { $turn }: the panels have moved apart and leaves show in the gaps; the whole measures { $diameter }.
plan-open-alt = The open top from above: { $sectors } panels outside, { $sectors } leaves between them and a star in the middle, { $diameter } across.
table-stack = How it stacks up
table-stack-text = Top and mechanism together are { $thick } thick. Panels stay at their height. Leaves and rising plate rise by one step of { $step }, the star by two.
stack-heights = Bottom and top above the floor
stack-caption = The levels of the table, closed on the left and open on the right of the centre line. Heights are to scale; widths are squeezed. The numbers on the right are those of the names on the left.
stack-alt = The levels of the table from panels down to base plate. The top surface is { $top } above the floor, all levels together are { $thick } thick; open, the leaves are { $step } higher and the star twice as much.

## How it moves

motion-title = How it moves
motion-way = One turn
motion-way-text-1 = The base stands still. Each panel and each leaf hangs on a slide, and each slide is pushed by an arm that is pinned to the base. Turning the top walks the slides outward along straight lines, evenly and together.
motion-way-text-2 = From 0° to { $begins } everything moves out and nothing rises. From { $begins } to { $ends } the arms pass their farthest point and the slides all but stand still, panels at { $panel } and leaves at { $leaf }; meanwhile four rollers climb their ramps and lift plate and leaves by { $step }, and levers lift the star by { $star }. From { $ends } to { $turn } the panels come back by { $back } and close on the tongues.
motion-way-cam-1 = The base stands still, and a cam plate is fixed on it. Each panel and each leaf hangs on a slide, and a pin of each slide runs in a slot of the cam. Turning the top walks the slides outward along straight lines, evenly and together.
motion-way-cam-2 = From 0° to { $begins } everything moves out and nothing rises. From { $begins } to { $ends } the slots keep their distance from the centre and the slides stand still, panels at { $panel } and leaves at { $leaf }; meanwhile four rollers climb their ramps and lift plate and leaves by { $step }, and levers lift the star by { $star }. From { $ends } to { $turn } the panels come back by { $back } and close on the tongues.
motion-way-cam-3 = The same way back closes the table. At no place does anything have to be pushed by hand.
motion-way-text-3 = The same way back closes the table. At no place does anything have to be pushed by hand.
motion-chart = Travel and lift
motion-chart-caption = How far panels and leaves are out, and how far plate and star have risen, against the turn of the top. Grey: the lift.
chart-panels = panels
chart-leaves = leaves
chart-plate = plate
chart-star = star
chart-lift = lift
chart-alt = Chart of travel and lift against the turn, from 0° to { $turn }. Panels end { $panel } out and leaves { $leaf } out, a little short of their farthest; the lift takes place from { $begins } to { $ends }.
clearances = Key clearances
clearances-text = All { $pairs } pairs of parts that come to the same height at some moment were followed over the whole turn, not only at a few places. The table lists the checks of the table as a whole and the pairs that come nearest to their limit. “To spare” is what is left before the limit.
clearances-what = What is checked
clearances-found = Found
clearances-limit = Limit
clearances-margin = To spare
clearances-turn = At
clearances-failing = Does not hold: do not build before this is mended
clearances-whole = The table as a whole
clearances-pairs = Parts that must keep clear, tightest first
clearances-fits = Parts that run in each other or meet, tightest first
check-clear = { $a } and { $b } keep apart
check-fit = { $a } and { $b } fit with play
check-fit-own = Neighbours fit with play: { $a }
check-touch = { $a } and { $b } meet and never overlap
check-touch-own = Neighbours meet and never overlap: { $a }
check-clear-own = Neighbours keep apart: { $a }
check-lift = Tongues pass while the lift lasts: { $a }, { $b }
check-lift-own = Tongues pass while the lift lasts: { $a }
check-hidden-leaf = Stored leaves stay inside the closed edge
check-hidden-star = The stored star stays inside the closed edge
check-closes-panel = Panels end at their open place
check-closes-leaf = Leaves end at their open place
check-engaged-panel-slide = Panel slides stay in their guides
check-engaged-leaf-slide = Leaf slides stay in their guides
check-ramp-outer = Slope of the outer ramps
check-ramp-inner = Slope of the inner ramps
check-tracks = Rollers pass the pockets of others
check-lift-star-error = The star ends flush
check-lift-shafts = Guide shafts that keep the rising plate level
check-wall-panel-arm = Wood beside the pin holes of the panel arms
check-wall-leaf-arm = Wood beside the pin holes of the leaf arms
check-wall-cuts = Wood between the cuts of any one part
check-hidden-leaf-corner = Corners of stored leaves stay inside the closed edge
check-height-under-base = Height left under the base plate
check-stop-closed = Stop block meets its end stop, closed
check-stop-open = Stop block meets its end stop, open
check-stop-between = Stop block clear of both end stops in between

## Sizes

sizes-title = Sizes
sizes-given = Sizes given
sizes-given-text = What the plan was given. All other sizes in this book follow from these.
sizes-solved = Sizes solved
sizes-solved-text = Each size is rounded once, from its exact value. The last column says where it comes from; R is the closed radius, e and l the travels of panels and leaves, n the number of panels, h half the angle of a panel.
solved-top = The top
solved-turn = Turn and over-travel
solved-drive = Drive
solved-slides = Slides
solved-lift = Lift and rollers
solved-plates = Plates and posts
solved-height = Heights
solved-more = Further numbers
column-size = Size
column-typed = As given
column-mm = Metric
column-inch = Inch
column-rule = From

## Lists

lists-title = Lists
lists-parts = Parts to make
lists-parts-text = Sizes are those of the smallest upright box around the finished part: along the grain, across it, thickness. “Sheets” are those of the cutting layouts; what has none is cut from boards. Masses are of all pieces together, from usual densities. The page is that of the drawing.
lists-hardware = Hardware and bought parts
lists-hardware-text = Bar, tube and dowel are cut to length. Buy a few more of what is small. Standards are named from memory: hold them against what your dealer sells.
column-part = Part
column-count = Pieces
column-measure = Size
column-material = Material
column-page = Page
column-number = No.
column-sheet = Sheets
column-mass = Mass
column-standard = Standard
column-buy = Buy
column-price = Price each
column-cost = Cost
lists-mass = The whole table, hardware included: { $mass }
lists-stock = Stock to buy
lists-stock-text = Sheets as laid out in the cutting layouts, boards and bars by the length. Planks are bought thicker than the finished strip. Fill in the prices you are quoted.
lists-of-length = { $length } (used: { $total })
lists-supply-1 = Wood glue
lists-supply-2 = Oil, varnish or other finish, and paste wax for slides and glide ring
lists-supply-3 = Sandpaper, masking tape, offcuts for test pieces
lists-sum = Sum
lists-tools = Tools
lists-tool-1 = Circular saw with a guide rail, or a table saw with guards; a bandsaw or jigsaw for curves.
lists-tool-2 = Router with a straight cutter, edge guide, and a trammel that reaches { $radius }.
lists-tool-3 = Groove cutter for grooves { $tongue } wide and { $depth } deep, or two passes of a narrower one.
lists-tool-4 = Drills: { $drills }; a drill press or drilling guide that keeps them square.
lists-tool-5 = Steel rule, square, bevel gauge, callipers that read to 0.1 mm (0.004 in), feeler gauges, straight edge.
lists-tool-6 = Clamps, hacksaw and file for rods, countersink, screwdrivers, plane, chisels, mallet.
lists-tool-7 = Two trestles, and a helper: the heaviest single piece has { $heaviest }.
lists-tool-8 = Eye, ear and dust protection, and dust collection at every machine.
standard-screw = DIN 7997, countersunk
standard-bushing = LM series, 12 × 21 × 30 (not an ISO 10285 series)
standard-ball-plunger = thread ISO 724, M10
standard-steel-rod = EN 10278, h9
standard-ground-steel-shaft = ISO 286-2, h6
standard-tube = EN 10305-1
standard-steel-tube = EN 10305-1
standard-hardwood-dowel = none
standard-steel = none; turned
standard-drop-roller = none; see its drawing in the base

## Cutting layouts

cutting-title = Cutting layouts
cutting-how = How to use them
cutting-text-1 = Each figure is one stock sheet with the true outlines of the parts cut from it. The number in a part is its number in the parts list. Parts lie { $kerf } apart, the width of the saw cut, and { $margin } from the edges of the sheet. The arrow shows the grain of the sheet's face; parts are turned only as their grain allows, never over.
cutting-text-2 = Mark out from the part drawings, not from these figures, which are too small to measure. Cut dashed lines first, from edge to edge. Where curved parts nest closely, rough them out with a jigsaw a little outside the line and trim with the router. Before cutting, measure the sheet: its thickness decides grooves and heights.
cutting-text-3 = The layouts were found by a short search that gives the same answer every time. A longer one takes minutes and may save a few parts in a hundred of a sheet, seldom a whole one.
cutting-sheets = Sheets
cutting-caption = Sheet { $sheet } of { $count }: { $stock }; { $size }. { $fill } % used. { $parts }.
cutting-alt = Cutting layout on a sheet of { $stock }, { $size }, with pieces numbered as in the parts list: { $count } in all.
cutting-grain = grain
cutting-left = No place was found for { $count } × { $name }: larger or more sheets are needed.
cutting-rips = Rips
cutting-rips-text = Bands to rip off sheets over their whole length before cutting to lengths. Distances are from the lower edge of the figure.
cutting-strip-alt = Boards drawn as bars with the pieces marked off on them: { $words }
cutting-bar = Bar
cutting-from = From the edge
cutting-wide = Width
cutting-holds = Gives
cutting-strips = Strips and bars
cutting-strips-text = Cut from boards and bars of { $board }, the longest pieces first, with a saw cut between pieces. Finished sizes; leave what your planer takes. A number at the end of a bar says how many are cut alike.

## Assembly drawings

assembly-title = Assembly drawings
assembly-document = Assembly drawing
drawing-isometric = Table, closed and open
drawing-isometric-closed = Table, closed
drawing-isometric-open = Table, open
drawing-isometric-closed-alt = Isometric view of the closed table: a round top of { $sectors } panels on its frame.
drawing-isometric-open-alt = Isometric view of the table turned open by { $turn }: { $sectors } panels moved out, { $sectors } leaves between them and the star in the middle.
drawing-elevation = Plan and front view
drawing-elevation-closed-alt = Front view and plan of the closed table: diameter { $diameter }, height { $height }, free height under the frame { $under }.
drawing-elevation-open-alt = Front view and plan of the open table: diameter { $diameter } round { $sectors } panels, height { $height }, free height under the frame { $under }.
drawing-closed = Closed
drawing-open = Open
drawing-section = Section through the closed table
drawing-section-alt = Upright section of the closed table along two half planes through its axis: on the left close beside a seam, on the right through a panel's middle. The circle A marks the detail.
drawing-detail-alt = Detail A at { $scale }: the cut stack with the names of its parts on the left and the heights of their faces above the floor on the right.
drawing-through-seam = close beside a seam
drawing-through-panel = through a panel's middle
drawing-heights = Above the floor
drawing-unscaled = none
drawing-exploded-top = Top, exploded
drawing-exploded-rising = Rising plate, exploded
drawing-exploded-turning = Turning plate, exploded
drawing-exploded-base = Base, exploded
drawing-exploded-frame = Frame, exploded
drawing-exploded-alt = { $title }: isometric view of the pieces drawn apart along the ways they go in, with trace lines. From the top: { $items }.
drawing-item = Item
drawing-name = Name
drawing-count = Count

## Drawings

drawings-title = Drawings

## Jigs

jigs-title = Jigs
jigs-trammel = Router trammel
jigs-trammel-text = Each arc is cut by swinging the router round a pin. The setting S is the distance from the pin to the middle of the cutter, here one of { $cutter }: the radius and half the cutter where the wood inside the arc stays, the radius less half the cutter where the wood outside stays. With another cutter, take half of its own diameter instead of { $half }. Cut in passes of a few millimetres, against the turning of the cutter, the work clamped at both ends.
jigs-trammel-caption = The two ways to set a trammel. R is the finished edge, c the cutter, S the setting. Tinted: the wood that stays.
jigs-trammel-alt = A trammel seen from above, twice: with the cutter outside the finished edge, its setting is the radius plus half the cutter; with the cutter inside a hollow edge, the radius less half of it.
jigs-edge = Edge
jigs-outer-edge = outer edge
jigs-hollow-edge = hollow edge
jigs-radius = R, finished
jigs-centre = Pin at x; y
jigs-origin = origin
jigs-setting = S, setting
jigs-template = many arcs; cut to a full-size template
jigs-grooves = Grooves and tongues
jigs-grooves-text = Set the fence and cutter from the lower face of the part, so that all faces come level above. “Below” is the wood left under the cut (or under the tongue), “above” that over it. Try each set-up on offcuts of the same sheet: a tongue should enter its groove by hand and not shake.
jigs-cut = Cut
jigs-groove = groove
jigs-tongue = tongue
jigs-below = Below
jigs-wide = Thickness
jigs-above = Above
jigs-deep = Depth
jigs-circles = Pin circles
jigs-circles-text = Drill holes that lie on a circle with a bar that turns on the centre pin, and step round with a stick as long as the chord. Directions count from the x axis of the part's drawing, counter-clockwise seen from above. Check the closing chord before drilling the last hole.
jigs-holes = Holes
jigs-from-centre = From centre
jigs-directions = Directions
jigs-chord = Chord
jigs-every = { $first }, then every { $step }
jigs-blind-top = ({ $depth } deep from above)
jigs-blind-bottom = ({ $depth } deep from below)
jigs-hole-panel-crank-pin = panel crank pins
jigs-hole-leaf-crank-pin = leaf crank pins
jigs-hole-guide-shaft = guide shafts
jigs-hole-bushing = bushings
jigs-hole-leaf-sleeve = pin sleeves
jigs-hole-screw = screws
jigs-hole-keeping-pin = keeping pins
jigs-hole-end-stop = end-stop screws
jigs-bar-caption = A drilling bar for the part with the most circles. The black hole turns on a pin in the centre of the part; drill through the others.
jigs-bar-alt = A bar with a centre hole and { $count } holes for the circles of the { $name }, dimensioned from the centre.

## Setting up

adjusting-title = Setting up and mending
adjusting-rules = What moves what
adjusting-rule-1 = A shim of { $shim } under all ramps raises rising plate and leaves by { $shim } when open, and the star by { $starshim }: the levers make { $ratio } of each unit. The panels stay. Under the glide ring the same shim raises panels and plates together, closed and open, and so leaves and star stand that much lower than the panels when open.
adjusting-rule-2 = A slip of { $shim } under one foot raises the open rim above it by { $rim }. Over the last degree of the turn the panels come in by { $degree } and close on the tongues; a panel moved by { $onemm } on its slide opens or closes its two joints by { $perpanel } together.
adjusting-rule-3 = A ramp shifted along its circle by { $onemm } begins the lift { $slip } of turn earlier or later. All four must begin together: compare them by the turn at which a slip of paper is first held.
adjusting-order = Order of adjustments
adjusting-order-step-1 = Stand the frame where it will live. Lay a level across the bare base plate both ways and slip the feet until it reads true; the base plate's underside is then { $bed } above the floor.
adjusting-order-step-2 = Wax the glide ring, lay the turning plate on it and turn it by hand. It should lie down everywhere: feel round with a { $shim } slip, and plane or shim the ring where it enters.
adjusting-order-step-3 = Fit arms or cam and slides without panels. Turn slowly from 0° to { $turn } and back, watching every pin; nothing may touch.
adjusting-order-step-4 = Fit the rising plate. All rollers should drop just before { $begins } and stand on top by { $ends }. Measure the rise beside each guide shaft: { $step }, alike within the thickness of two sheets of paper.
adjusting-order-step-5 = Fit the star's levers and hub. Open, the star must have risen { $twostep }. Plane or shim its hub last.
adjusting-order-step-6 = Fit the leaves and set the heights of their risers until each is level with the star. Then fit the panels and set their posts to the leaves.
adjusting-order-step-7 = Close the joints: at { $turn } tongues are home and joints stand at { $gap }. Ease tongues that bind, never force the turn.
adjusting-order-step-8 = Set the end stops at 0° and { $turn }, then the latch, then trim the rim with everything closed.
adjusting-order-step-9 = Load the open rim little by little, as the cautions say. Only then finish, wax the slides, and lay the table.
adjusting-remedies = Symptom, cause, remedy
adjusting-remedies-text = Try the causes in the order in which they stand. Change one thing at a time.
adjusting-symptom = Symptom
adjusting-cause = Cause
adjusting-remedy = Remedy
adjusting-row-1 = The whole top is turned hard, everywhere | Glide ring or slides dry, or the frame stands twisted | Wax ring and slides; level the feet. A clean table should need no more than { $push } at the closed rim.
adjusting-row-2 = Hard only from { $begins } to { $ends } | Ramps begin one after the other, or a roller leans | Shift the ramp that begins first: { $onemm } along its circle is { $slip } of turn.
adjusting-row-3 = A bump where the lift begins | Foot of a ramp stands proud of its pocket, or a roller has not dropped | Pare the foot level with the floor; stiffen or free the roller's spring.
adjusting-row-4 = Leaves too low when open | Ramps too low, or glide ring too high | Shim all ramps by the difference; the star then rises by { $ratio } times as much: take that from its hub.
adjusting-row-5 = Leaves too high when open | Ramps too high, or stock of the leaves too thick | Plane the tops of the ramps, or the risers of the leaves, by the difference.
adjusting-row-6 = One leaf alone high or low | Its risers differ | Set its own risers; leave the ramps alone.
adjusting-row-7 = Star high or low, leaves level | Levers or hub off by a little | The hold-down flange set { $shim } higher lowers the star by about as much; or shim or plane the hub by the whole difference.
adjusting-row-8 = Star rocks | One lever lifts early | Bend or pare the tips until all hold a slip of paper alike at { $ends }.
adjusting-row-9 = Tongues strike while leaves rise | Panels not far enough out, or tongues too deep | At { $peak } panels must be { $panelover } beyond their open place; tongues { $depth } deep then clear by { $clearance }. Check pin places before planing tongues.
adjusting-row-10 = Joints stay open at { $turn } | The turn ends early, or slides are set inward | Move the end stop: one degree is { $degree } of panel. Then move single panels on their slides.
adjusting-row-11 = Joints press before { $turn } | Panels set too far inward, damp wood | Move panels outward; each { $onemm } opens its two joints by { $perpanel }. Ease the edges in the dampest season.
adjusting-row-12 = A leaf shows at the closed rim | It stands outward on its slide | Move it in; it should hide by { $margin }.
adjusting-row-13 = Panels scrape over leaves | Play of { $play } used up by thick stock or finish | Raise the posts of the panels by what is missing, or thin the finish underneath.
adjusting-row-14 = Open rim droops under a hand | Slides loose in their guides, or a foot hangs | Shim the guides from above until slides just run; slip the foot: { $shim } under it is { $rim } at the rim.
adjusting-arms-row-1 = A knock at one place of the turn | Two arms touch | They should clear by { $armgap }. Look for a pin that leans, an arm that sags or a bend drawn wrong.
adjusting-cam-row-1 = A knock at one place of the turn | A pin strikes a step in its slot | Smooth the walls of the slot and wax them; look for a pin that leans.

## Strength and safety figures

strength-title = Strength and safety figures
strength-read = How to read them
strength-notice = These figures are guidance for makers. They rest on the assumptions listed below and are not a certification to any standard.
strength-text-1 = Each figure was worked out for this table from its formula. Where it has a limit, “≤” says that it may be no larger and “≥” that it may be no smaller; “to spare” is what is left. The numbers in the last column are those of the sources at the end.
strength-text-2 = Wood differs from board to board, glue and screws from hand to hand. Test what matters with weights, little by little, before anybody relies on it. Rooms open to the public have rules of their own.
strength-weak = Figures that do not hold: { $count }. They are printed bold. Choose other sizes or stock, or keep the load away that they speak of.
strength-none-weak = Every figure that has a limit holds.
strength-figures = Figures
strength-figure = Figure
strength-value = Value
strength-limit = Limit
strength-formula = Formula
strength-source = Source
strength-seats = Seats
strength-seats-text = How many places of a width there is room for along the rim.
strength-seat-state = Width of a place
strength-assumed = What is assumed
strength-sources = Sources
strength-group-turn = Turning
strength-group-edge = Load at the edge
strength-group-drive = Arms, slots, pins and shafts
strength-group-lift = Lift
strength-group-base = Base plate
strength-group-tip = Tipping
strength-group-room = Room for knees
strength-group-season = Seasons: a top of solid wood
strength-group-flush = Flushness
strength-group-mass = Mass

## Notes and revisions

revisions-title = Notes and revisions
notes = Notes of the maker
notes-none = There are no notes.
revisions-table = Revisions
revisions-text = The latest stands first. The letters I, O, Q, S, X and Z are not used as marks, because they are easily misread.
column-mark = Mark
column-date = Date
column-changed = What changed, and why
not-issued = not issued
no-reasons = No reasons given.
## Words and sizes

index-title = Words and sizes
glossary = Words
glossary-text = Words this book uses in a sense of its own, or that a maker may meet here for the first time.
glossary-term-1 = Panel: one of the equal sectors that the closed top is divided into; it slides outward.
glossary-term-2 = Leaf: a strip stored under the panels; it travels outward and rises into the gap between two panels.
glossary-term-3 = Star: the piece in the middle of the open top, stored lowest; it rises by two steps.
glossary-term-4 = Step: one thickness of top stock and the play above it; what leaves and rising plate rise.
glossary-term-5 = Turning plate: turns with the top on the glide ring and carries the guides of the panel slides.
glossary-term-6 = Rising plate: turns with the top, carries the leaf slides, and rises on its guide shafts by one step.
glossary-term-7 = Slide: the bar under a panel or leaf that runs in two guides; its pin is moved by an arm or a slot.
glossary-term-8 = Crank pin: a pin fixed in the base plate, on which an arm turns.
glossary-term-9 = Arm: a bent bar from a crank pin to a slide pin; it pushes the slide outward while the top turns.
glossary-term-10 = Dead centre: the place of the turn where an arm and its slide lie in one line and the slide stands still.
glossary-term-11 = Over-travel: how far panels and leaves go beyond their open places, so that tongues can pass while the lift lasts.
glossary-term-12 = Lift: the part of the turn in which leaves and star rise.
glossary-term-13 = Drop roller: a sprung wheel under the rising plate; it drops into a pocket of the base and climbs its ramp.
glossary-term-14 = Ramp: the sloping floor of a pocket, on which a drop roller climbs one step.
glossary-term-15 = Glide ring: the waxed ring on the base plate on which the turning plate rests.
glossary-term-16 = Tongue and groove: a rib on one edge that enters a channel in the next, so that the faces come level.
glossary-term-17 = Play: air left on purpose between parts that move past each other.
glossary-term-18 = Fitting gap: the narrow joint left between neighbouring edges of the open top.
glossary-term-19 = Kerf: the width of wood that a saw turns into dust.
glossary-term-20 = Trammel: a bar with a pin at one end and the router at the other, for cutting arcs.
glossary-term-21 = Shim: a thin slip put under something to raise it.
glossary-term-22 = Skew: the angle by which slides are turned from the middle line of their panel.
glossary-term-23 = Solved size: a size that follows from the sizes given and was worked out, not chosen.
index-sizes = Where sizes are printed
index-sizes-text = Each size with its value and the pages whose tables and drawings show it. A dimension that follows from a size counts as showing it.
index-value = Value
index-pages = Pages
