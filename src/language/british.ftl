# Texts of the glass order and of the workshop sheet in the words of Britain. Another language is a file like this one:
# https://projectfluent.org tells how it is written. What it leaves out stays as it stands here.

language-tag = en-GB

## Words of the trade. They are used in the texts below, and take the place of their English in every other sentence.

-glazing-bar = glazing bar
-upright-bar = upright bar
-cross-bar = cross bar
-rebated = rebated
-rebate = rebate
-moulding = moulding
-coloured = coloured
-colour = colour
-centre = centre
-grey = grey
-mould = mould
-float = float
-laminated = laminated
-toughened = toughened
-heat-strengthened = heat-strengthened
-annealed = annealed
-argon = argon
-krypton = krypton
-xenon = xenon
-emissivity = emissivity

## Every sheet

page-number = page { $number } of { $count }

## The answer

answer-yes = yes, there is enough wood
answer-care = yes, with care
answer-wood = no, too little wood would be left
answer-unit = no, not this unit; the wood itself is enough
answer-cut = there is enough wood, but it cannot be cut as things stand
answer-programs = there is enough wood, but the programs cannot be run as the machine is set up

## The glass order

order-title = { $house }: glass order
order-sheet = { $house } · glass order
order-foot = Calculated from the survey as written. Unit maker: if anything is unclear, ask before you make it.
order-heading = Glass order
order-to-fill-in = to fill in
order-number = order number and date
order-by = ordered by, telephone
order-maker = unit maker
order-deliver = deliver to, or fetched by
order-wanted = wanted by
order-agreed = price and delivery agreed, date
order-units = Units to order
order-pieces = pieces
order-size = ORDER width × height, mm
order-build-up = build-up
order-each-area = each m²
order-each-weight = each kg
order-labels = labels
order-price-each = price each
order-price = price
order-in-all = in all
order-nothing = Nothing can be ordered: no sash can take its unit. See the reasons in summary.txt.
order-safety = Safety glass: where a pane lies near a floor or a door, local rules may ask for toughened or laminated glass. England, Approved Document K: below 800 mm from the floor, and below 1500 mm in doors and side panels within 300 mm of them. A unit's page says where the survey shows such a place.
order-tolerances = Tolerances asked for, unless the maker agrees others: width and height ± 2.0 mm, panes offset by at most 2.0 mm (sides up to 2 m); thickness as stated for each unit.
order-weight-unknown = unknown

## A unit of the order

unit-heading = ORDER SIZE { $size } mm, { $count ->
    [one] { $count } piece
   *[other] { $count } pieces
}
unit-heading-shaped = ORDER SIZE { $size } mm, { $shape }, { $count ->
    [one] { $count } piece
   *[other] { $count } pieces
}
unit-seen = Seen from outside, which is the glazing face.
unit-outside = outside
unit-order = order
unit-what = what
unit-this = this unit
unit-label = label each
unit-size = ORDER width × height, edge of glass, mm
unit-size-shaped = ORDER width × height over all, edge of glass, mm
unit-tape = edge tape, mm
unit-tape-each = { $width } on each edge, beyond the order size
unit-shape = shape, set out by the drawing and the table above
unit-area = area of the glass, m²
unit-build-up = build-up, from outside in, mm
unit-outside-pane = outside pane, faces 1 and 2
unit-second-pane = pane, faces 3 and 4
unit-third-pane = pane, faces 5 and 6
unit-cavity = cavity
unit-thickness = thickness, nominal / at most, mm
unit-spacer-height = spacer and seal, height from the edge, at most, mm
unit-bar-width = internal bars, width, mm
unit-upright-bars = upright internal bars, { -centre }s from the left edge, mm
unit-cross-bars = cross internal bars, { -centre }s from the bottom edge, mm
unit-weight = weight each, kg
unit-daylight = daylight in the timber, NOT a size to order, mm
unit-daylight-shaped = daylight in the timber, over all, NOT a size to order, mm
unit-safety = safety glass
unit-no-safety = no place in the survey asks for it; { $boxes }
unit-rules-checked = checked by the local rules
unit-gas = gas
unit-air = air
unit-argon = { -argon }
unit-krypton = { -krypton }
unit-coat = coat
unit-no-coat = none
unit-low-emissivity = low { -emissivity }:
unit-coated-face = coated face
unit-spacer = spacer
unit-metal = metal
unit-improved = improved (warm edge):
unit-spacer-material = spacer material
unit-spacer-colour = spacer { -colour }
unit-black = black
unit-grey = { -grey }
unit-white = white
unit-treatment = treatment of the panes
unit-annealed = { -annealed }
unit-heat-strengthened = { -heat-strengthened }
unit-toughened = { -toughened }
unit-whether-laminated = whether the glass is { -laminated }
unit-float = { -float }
unit-laminated = { -laminated }
unit-edges = edges of the glass
unit-as-cut = as cut
unit-arrised = arrised

## The workshop sheet

workshop-title = { $house }, { $sash }: workshop sheet
workshop-sheet = { $house } · { $sash } · workshop sheet
workshop-foot = Calculated from the survey as written; it does not replace local codes or licensed practice.
workshop-answer = { $sash }: { $answer }
workshop-stop = { $sash }: STOP, do not cut: { $answer }
workshop-depth-stop = Stop
workshop-guide = Guide
workshop-stops = { $depths } mm below the base.
workshop-stops-bush = { $depths } mm below the base, { $plate } mm of template included.
workshop-elevation = Seen from the glazing face, where the putty is. The heavy line is the new { -rebate }; { -coloured } numbers are beads.
workshop-section = Section before and after, { $scale }
workshop-no-care = Nothing needs care beyond the usual
workshop-care = What needs care
workshop-cautions = Cautions
workshop-would-fit = What would fit
workshop-hanging = Weight and gaps
workshop-part = part
workshop-width = width, mm
workshop-thickness = thickness, mm
workshop-measured = measured
workshop-new-rebate = new { -rebate }, width × depth, mm
workshop-left = wood left under / beside, mm
workshop-not-cut = not to be cut
workshop-down-to = down to { $depth }
workshop-web = web { $width }
workshop-every-light = every light
workshop-every-bar = every bar
workshop-corners = Corners for the chisel
workshop-passes = Passes
workshop-number = no.
workshop-stage = stage
workshop-place = place
workshop-depth = depth, mm
workshop-depth-stop-at = depth stop, mm
workshop-guided = guide
workshop-straightedge = straightedge
workshop-left-after = left under / beside, mm
workshop-done = done
workshop-chisel = chisel
workshop-boards = Boards that carry the router
workshop-count = count
workshop-size = size, mm
workshop-thick = thick, mm
workshop-remark = remark
workshop-comes-out = comes out
workshop-blocks = Setting and location blocks
workshop-unit = unit
workshop-side = side
workshop-middles = middles from the unit's left or bottom edge, mm
workshop-block-size = length × width × height, mm
workshop-bed = Bed and sealant
workshop-putty = Face putty
workshop-beads = Beads
workshop-bead = bead
workshop-bead-size = width × height, mm
workshop-long-points = long points, mm
workshop-short-points = short points, mm
workshop-mitres = mitres, degrees
workshop-splay = splay; top
workshop-pins = pins
workshop-bearing = A cutter with a bearing instead
workshop-light-side = light and side
workshop-new-width = new width, mm
workshop-on-sight-edge = bearing on the sight edge, mm
workshop-below-cut = upright wood below the cut, mm
workshop-on-old-wall = bearing on the old wall, mm
workshop-old-wall = old wall, mm
