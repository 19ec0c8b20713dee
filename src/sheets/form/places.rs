//! What is asked where: every box of the form with the keys of the survey that it stands for.

/// A column of boxes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place {
    /// Letter in the pictures; empty where there is none.
    pub(super) mark: &'static str,
    /// What to write.
    pub(super) words: &'static str,
    /// Keys under the prefix of the part. The first is printed.
    pub(super) keys: &'static [&'static str],
    /// Share of the width.
    pub(super) share: f64,
}

/// Boxes that belong together.
#[derive(Debug, Clone, Copy)]
pub(super) struct Part {
    /// Words over it; empty where it goes on from the part before.
    pub(super) heading: &'static str,
    /// The way to its table in the survey. `side` stands for each of the four members.
    pub(super) prefix: &'static str,
    pub(super) places: &'static [Place],
    /// A name for each row of boxes.
    pub(super) rows: &'static [&'static str],
}

const fn at(
    mark: &'static str,
    words: &'static str,
    keys: &'static [&'static str],
    share: f64,
) -> Place {
    Place { mark, words, keys, share }
}

const fn part(
    heading: &'static str,
    prefix: &'static str,
    rows: &'static [&'static str],
    places: &'static [Place],
) -> Part {
    Part { heading, prefix, places, rows }
}

const ONE: &[&str] = &[""];
const TWO: &[&str] = &["1", "2"];
const FIVE: &[&str] = &["1", "2", "3", "4", "5"];

/// What the paper is about; nothing of it goes into the survey.
pub(super) const WHERE: Part = part(
    "",
    "sash[].",
    ONE,
    &[
        at("", "house", &[], 1.4),
        at("", "room", &[], 1.2),
        at("", "date", &[], 0.9),
        at("", "joints: tight or open", &[], 1.3),
        at("", "timber: sound, soft, rotten", &[], 1.4),
        at("", "photos, numbers", &[], 1.2),
    ],
);

/// Beside the pictures: what the sash is.
pub(super) const NAME: Part = part(
    "",
    "sash[].",
    ONE,
    &[
        at("", "name of this sash", &["id"], 1.2),
        at("", "fixed, side-hung, top-hung, sliding-upper, sliding-lower", &["kind"], 2.0),
        at("", "hinges: left or right", &["hinge_side"], 1.0),
        at("", "unit, from outside", &["unit.build_up"], 1.2),
        at("", "beads or putty", &["glazing"], 1.0),
    ],
);

/// What the sash is made of, and how it is to be taken.
pub(super) const MORE: Part = part(
    "",
    "sash[].",
    ONE,
    &[
        at("", "timber, if known", &["timber"], 1.1),
        at("", "graded c16, c24, d30", &["timber_class"], 0.9),
        at("", "one-unit behind bars, or unit-per-light", &["bars_as"], 1.4),
        at("", "wind, Pa", &["wind"], 0.7),
    ],
);

/// Front of the sheet, below the pictures.
pub(super) const FRONT: &[Part] = &[
    part(
        "",
        "sash[].",
        ONE,
        &[
            at("A", "sight width, at the bottom", &["sight.width", "sight.widths"], 1.1),
            at("", "in the middle", &["sight.widths"], 1.0),
            at("", "at the top", &["sight.widths"], 1.0),
            at("B", "sight height, at the left", &["sight.height", "sight.heights"], 1.1),
            at("", "in the middle", &["sight.heights"], 1.0),
            at("", "at the right", &["sight.heights"], 1.0),
        ],
    ),
    part(
        "",
        "sash[].",
        ONE,
        &[
            at("C", "diagonal, up to the right", &["sight.diagonals"], 1.1),
            at("D", "diagonal, up to the left", &["sight.diagonals"], 1.1),
            at("", "each may be off by", &["sight.tolerance"], 1.0),
            at("E", "overall width", &["overall.width"], 1.0),
            at("F", "overall height", &["overall.height"], 1.0),
            at("", "horns past the top or bottom rail", &["horns.top", "horns.bottom"], 1.3),
        ],
    ),
    part(
        "",
        "sash[].",
        ONE,
        &[
            at("G", "left stile", &["stiles.left", "stiles.width"], 1.0),
            at("H", "right stile", &["stiles.right", "stiles.width"], 1.0),
            at("I", "top rail", &["rails.top", "rails.width"], 1.0),
            at("J", "bottom rail", &["rails.bottom", "rails.width"], 1.0),
            at("K", "thickness", &["thickness"], 1.0),
            at("L", "rebate width", &["rebate.width"], 1.0),
            at("M", "rebate depth", &["rebate.depth"], 1.0),
        ],
    ),
    part(
        "",
        "sash[].",
        ONE,
        &[
            at(
                "",
                "moulding: square, chamfer, ovolo, ogee, traced",
                &["moulding.shape", "moulding.points"],
                2.0,
            ),
            at("N", "moulding width", &["moulding.width"], 1.1),
            at("O", "moulding depth", &["moulding.depth"], 1.1),
            at("P", "groove, from face", &["groove.from_face"], 1.1),
            at("Q", "groove, width", &["groove.width"], 1.1),
            at("R", "groove, depth", &["groove.depth"], 1.1),
        ],
    ),
];

/// The unit and its place, where they are not as usual.
pub(super) const UNIT: &[Part] = &[
    part(
        "The unit to fit: write only what differs",
        "sash[].",
        ONE,
        &[
            at("", "cover behind sight edge", &["unit.cover"], 1.2),
            at("", "height of spacer and seal", &["unit.spacer_height"], 1.3),
            at("", "thicker by at most", &["unit.over"], 1.0),
            at("", "edge tape", &["unit.tape"], 0.8),
            at("", "internal bar", &["unit.internal_bar"], 1.2),
            at("", "square or shaped", &["unit.shape"], 1.0),
            at("", "order step", &["unit.order_step"], 1.1),
        ],
    ),
    part(
        "",
        "sash[].",
        ONE,
        &[
            at("", "gap left", &["clearance.left"], 1.0),
            at("", "gap right", &["clearance.right"], 1.0),
            at("", "gap at the top", &["clearance.top"], 1.0),
            at("", "gap at the bottom", &["clearance.bottom"], 1.2),
            at("", "blocks, height", &["blocks.height"], 1.0),
            at("", "bed under unit", &["finish.bed"], 0.9),
            at("", "bead over unit", &["finish.bead"], 0.9),
            at("", "bead proud of face", &["finish.proud"], 0.9),
            at("", "drained or bedded", &["drainage"], 0.9),
        ],
    ),
];

/// Back of the sheet.
pub(super) const MEMBERS: Part = part(
    "Members: write what differs from the front, and tenons",
    "sash[].member.side.",
    &["left stile", "right stile", "top rail", "bottom rail"],
    &[
        at("", "width", &["width"], 1.0),
        at("K", "thick", &["thickness"], 1.0),
        at("L", "rebate width", &["rebate.width"], 1.0),
        at("M", "rebate depth", &["rebate.depth"], 1.0),
        at("P", "groove, face", &["groove.from_face"], 1.1),
        at("Q", "groove, width", &["groove.width"], 1.1),
        at("R", "groove, depth", &["groove.depth"], 1.0),
        at("", "shape", &["moulding.shape", "moulding.points"], 1.2),
        at("N", "its width", &["moulding.width"], 1.1),
        at("O", "its depth", &["moulding.depth"], 1.1),
        at("S", "tenon, thick", &["tenon.thickness"], 1.1),
        at("T", "tenon, face", &["tenon.from_face"], 1.1),
        at("", "haunch only", &["tenon.haunch"], 1.05),
    ],
);

/// Bars.
pub(super) const BARS: Part = part(
    "Glazing bars: write what differs from the sash",
    "sash[].bars[].",
    FIVE,
    &[
        at("", "upright, cross, slanting, curved", &["runs"], 1.0),
        at(
            "U",
            "centre, from left or bottom sight edge; else both ends, rise, bulge",
            &["centre", "from", "to", "rise", "bulges"],
            1.5,
        ),
        at("V", "width, seen from the room", &["width"], 1.2),
        at("K", "thickness", &["thickness"], 1.0),
        at("L", "rebate width", &["rebate.width"], 1.0),
        at("M", "rebate depth", &["rebate.depth"], 1.0),
        at("", "shape", &["moulding.shape", "moulding.points"], 1.2),
        at("N", "its width", &["moulding.width"], 1.1),
        at("O", "its depth", &["moulding.depth"], 1.1),
    ],
);

/// Screws, metal and clamps.
pub(super) const FIXINGS: &[Part] = &[
    part(
        "Screws of hinges, lifts and fasteners",
        "sash[].screws[].",
        TWO,
        &[
            at("", "member; drawn?", &["member", "cleared"], 1.6),
            at("", "in by the outer edge or the room face", &["from"], 1.6),
            at("W", "along the member: Y on a stile, X on a rail", &["at"], 1.6),
            at("X", "length in the wood", &["length"], 1.1),
            at("Y", "outer edge: from glazing face", &["from_face"], 1.3),
            at("Z", "room face: from sight edge", &["from_sight"], 1.3),
        ],
    ),
    part(
        "Metal that the magnet finds",
        "sash[].metal[].",
        TWO,
        &[
            at("", "what it is", &["name"], 2.0),
            at("", "X from left sight edge", &["at"], 1.2),
            at("", "Y from bottom sight edge", &["at"], 1.2),
            at("", "all within", &["radius"], 0.9),
            at("", "from glazing face", &["from_face"], 1.1),
            at("", "drawn: true or false", &["cleared"], 1.1),
        ],
    ),
    part(
        "What holds the sash on a machine",
        "sash[].clamps[].",
        &["1"],
        &[
            at("", "what it is", &["name"], 2.0),
            at("", "X of its lower left corner", &["at"], 1.2),
            at("", "Y of its lower left corner", &["at"], 1.2),
            at("", "size along X", &["size"], 1.0),
            at("", "size along Y", &["size"], 1.0),
            at("", "height over glazing face", &["height"], 1.2),
        ],
    ),
];

/// What only some sashes have.
pub(super) const SHAPE: &[Part] = &[
    part(
        "",
        "sash[].sight.",
        ONE,
        &[
            at(
                "",
                "head: segmental, semicircular, three-centred, pointed, raked",
                &["head.shape"],
                2.2,
            ),
            at("a", "rise", &["head.rise"], 1.0),
            at("b", "radius", &["head.radius"], 1.0),
            at("c", "height at the left", &["head.left"], 1.0),
            at("d", "height at the right", &["head.right"], 1.0),
            at("e", "diameter", &["diameter"], 1.0),
        ],
    ),
    part(
        "",
        "sash[].",
        ONE,
        &[
            at("f", "left edge bowed out by", &["sight.bow.left"], 1.2),
            at("f", "right edge", &["sight.bow.right"], 1.0),
            at("f", "top edge", &["sight.bow.top"], 1.0),
            at("f", "bottom edge", &["sight.bow.bottom"], 1.0),
            at("", "glass: square, or shaped like the daylight", &["unit.shape"], 1.8),
        ],
    ),
    part(
        "Any other shape: its corners in order, from 0",
        "sash[].sight.",
        &["X", "Y", "bulge"],
        &[
            at("", "corner 1", &["outline"], 1.0),
            at("", "2", &["outline"], 1.0),
            at("", "3", &["outline"], 1.0),
            at("", "4", &["outline"], 1.0),
            at("", "5", &["outline"], 1.0),
            at("", "6", &["outline"], 1.0),
            at("", "7", &["outline"], 1.0),
            at("", "8", &["outline"], 1.0),
        ],
    ),
];

/// What carries the sash, where it is, and what more the unit may have.
pub(super) const AROUND: &[Part] = &[
    part(
        "What carries the sash",
        "sash[].",
        ONE,
        &[
            at("", "hinges, how many", &["hinges.count"], 1.0),
            at("", "outermost two apart", &["hinges.apart"], 1.1),
            at("", "screws in each", &["hinges.screws"], 1.0),
            at("", "screw diameter", &["hinges.diameter"], 1.1),
            at("", "thread in wood; off?", &["hinges.thread", "hinges.cleared"], 1.0),
            at("", "top-hung opens, degrees", &["opens"], 1.1),
        ],
    ),
    part(
        "",
        "sash[].",
        ONE,
        &[
            at(
                "",
                "cord groove: deep, wide, down from top, from face",
                &[
                    "cord_groove.depth",
                    "cord_groove.width",
                    "cord_groove.length",
                    "cord_groove.from_face",
                ],
                1.7,
            ),
            at("", "weight box: thickest weight", &["weights.diameter"], 1.2),
            at("", "pulley to bottom of box", &["weights.height"], 1.1),
            at("", "sash slides by", &["weights.travel"], 1.0),
            at("", "one old weight, kg", &["weights.old"], 1.0),
            at("", "old panes, thickness", &["old_glass"], 1.0),
            at("", "twisted: the face high at four corners", &["surface"], 1.4),
        ],
    ),
    part(
        "Where it is",
        "sash[].place.",
        ONE,
        &[
            at("", "england, us or other", &["country"], 1.2),
            at("", "window, door, beside-door", &["opening"], 1.4),
            at("", "floor to sight edge", &["floor"], 1.0),
            at("", "glass to walkway", &["walkway"], 1.0),
            at("", "near: door, guard, wet, stairs, stairs-foot", &["near"], 1.6),
            at("", "floor to ground outside", &["drop"], 1.1),
            at("", "year built", &["built"], 0.8),
            at("", "listed: true or false", &["listed"], 1.0),
        ],
    ),
    part(
        "What more the unit has, if it is agreed",
        "sash[].unit.",
        ONE,
        &[
            at("", "air, argon, krypton, xenon", &["gas"], 1.4),
            at("", "its share", &["share"], 0.8),
            at("", "emissivity of the coat", &["emissivity"], 1.2),
            at("", "spacer: metal or improved", &["spacer"], 1.4),
            at("", "annealed, heat-strengthened, toughened", &["glass"], 1.7),
        ],
    ),
];

/// The page of the workshop.
pub(super) const WORKSHOP: &[Part] = &[
    part("", "", ONE, &[at("", "name of the house", &["house"], 1.0)]),
    part(
        "Cutter: flat-ended",
        "workshop.cutter.",
        ONE,
        &[
            at("", "end: flat", &["kind"], 0.8),
            at("", "diameter", &["diameter"], 1.0),
            at("", "cutting edges", &["flutes"], 1.0),
            at("", "length of the edges", &["cutting_length"], 1.2),
            at("", "shank diameter", &["shank_diameter"], 1.2),
            at("", "nut or nose, diameter", &["holder.diameter"], 1.2),
            at("", "tip stands out of it by", &["holder.stick_out"], 1.2),
        ],
    ),
    part(
        "",
        "workshop.machine.corner_cutter.",
        ONE,
        &[
            at("", "for the corners, thinner: end", &["kind"], 1.2),
            at("", "diameter", &["diameter"], 1.0),
            at("", "edges", &["flutes"], 0.8),
            at("", "length of the edges", &["cutting_length"], 1.2),
            at("", "shank diameter", &["shank_diameter"], 1.2),
            at("", "nut or nose, diameter", &["holder.diameter"], 1.2),
            at("", "tip stands out of it by", &["holder.stick_out"], 1.2),
        ],
    ),
    part(
        "Hand router",
        "workshop.router.",
        ONE,
        &[
            at("", "diameter of the round base", &["base_diameter"], 1.2),
            at("", "guide bush, outside", &["guide_bush"], 1.0),
            at("", "guided by bush or straightedge", &["guided_by"], 1.4),
            at("", "thickness of template plates", &["plate"], 1.2),
            at("", "bearing under the tip, diameter", &["bearing.diameter"], 1.3),
            at("", "its height, 5 if empty", &["bearing.height"], 1.0),
        ],
    ),
    part(
        "Machine: write only if there is one",
        "workshop.machine.",
        ONE,
        &[
            at("", "travel X", &["bed"], 1.0),
            at("", "travel Y", &["bed"], 1.0),
            at("", "clear height, by clamps if empty", &["clear_height"], 1.4),
            at("", "X of the sash's zero in the travel", &["zero"], 1.4),
            at("", "Y of the sash's zero in the travel", &["zero"], 1.4),
            at("", "room past travel, left", &["overhang.left"], 0.9),
            at("", "right", &["overhang.right"], 0.8),
        ],
    ),
    part(
        "",
        "workshop.machine.",
        ONE,
        &[
            at("", "largest feed, mm/min", &["max_feed"], 1.2),
            at("", "straight down, mm/min", &["max_plunge"], 1.2),
            at("", "rapid moves, mm/min", &["rapid"], 1.2),
            at("", "spindle at most, turns a minute", &["spindle"], 1.3),
            at("", "at least", &["spindle_slowest"], 0.8),
            at("", "seconds to speed", &["spindle_wait"], 0.8),
            at("", "spoil board, thickness", &["spoil_board"], 0.9),
            at("", "programs: stage or one", &["programs"], 0.9),
            at("", "room past travel, front", &["overhang.front"], 0.9),
            at("", "back", &["overhang.back"], 0.8),
        ],
    ),
    part(
        "How it is cut: write only what differs",
        "workshop.cutting.",
        ONE,
        &[
            at("", "deepest step", &["step_depth"], 0.9),
            at("", "deepest while widening", &["widen_step"], 1.0),
            at("", "bite, share of cutter", &["side_step"], 1.0),
            at("", "scoring cut, depth", &["score_depth"], 1.0),
            at("", "left for the last cut", &["finish_allowance"], 1.2),
            at("", "chip for an edge and turn", &["chip_load"], 1.1),
            at("", "against or with the rotation", &["direction"], 1.3),
            at("", "tolerance", &["tolerance"], 1.0),
            at("", "zero off by at most", &["zero_error"], 1.0),
        ],
    ),
    part(
        "Printer",
        "workshop.printer.",
        ONE,
        &[
            at("", "A4, A3, Letter or roll", &["paper"], 1.2),
            at("", "width of the roll", &["roll_width"], 1.0),
            at("", "edge left white", &["margin"], 1.0),
            at("", "overlap of tiles", &["overlap"], 1.0),
        ],
    ),
];

/// Keys that the pencil need not be asked for: they are settled at the desk.
#[cfg(test)]
pub(super) const AT_THE_DESK: &[(&str, &str)] = &[
    ("defaults.", "says nothing that the sheet of each sash does not"),
    ("profile", "says nothing that the sheet of each sash does not"),
    ("workshop_file", "settings of the workshop, beside the survey"),
    ("sash[].like", "what is alike is found at the desk"),
    ("sash[].profile", "what is alike is found at the desk"),
    ("sash[].count", "what is alike is found at the desk"),
    ("workshop.printer.template", "how much paper to print"),
    ("workshop.printer.inches", "how sheets are worded"),
    ("workshop.printer.words", "how sheets are worded"),
    ("workshop.printer.words_file", "how sheets are worded"),
    ("workshop.candidates.", "what the unit makers offer"),
    ("workshop.allowances.", "deviations that a workshop knows of itself"),
    ("sash[].sight.traced", "a drawing, made at the desk"),
    ("sash[].sight.layer", "a part of that drawing"),
    ("sash[].sight.drawn_in", "the unit of that drawing"),
    ("sash[].bars[].tenon.", "seen only once a bar is out"),
    ("sash[].weather.", "figures of the place, not of the sash"),
    ("workshop.limits.", "judgements of the trade, not measures of a sash or a machine"),
];
