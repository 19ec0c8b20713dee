//! What is asked where: every box of the form with the keys of the survey that it stands for.

/// A column of boxes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place {
    /// Letter in the pictures; empty where there is none.
    pub(super) mark: &'static str,
    /// What to write, by its key.
    pub(super) words: &'static str,
    /// Keys under the prefix of the part. The first is printed.
    pub(super) keys: &'static [&'static str],
    /// Share of the width.
    pub(super) share: f64,
}

/// Boxes that belong together.
#[derive(Debug, Clone, Copy)]
pub(super) struct Part {
    /// The key of the words over it; empty where it goes on from the part before.
    pub(super) heading: &'static str,
    /// The way to its table in the survey. `side` stands for each of the four members.
    pub(super) prefix: &'static str,
    pub(super) places: &'static [Place],
    /// A name for each row of boxes, by its key where it is a word.
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
        at("", "box-house", &[], 1.4),
        at("", "box-room", &[], 1.2),
        at("", "box-date", &[], 0.9),
        at("", "box-joints-tight-or-open", &[], 1.3),
        at("", "box-timber-sound-soft-rotten", &[], 1.4),
        at("", "box-photos-numbers", &[], 1.2),
    ],
);

/// Beside the pictures: what the sash is.
pub(super) const NAME: Part = part(
    "",
    "sash[].",
    ONE,
    &[
        at("", "box-name-of-this-sash", &["id"], 1.2),
        at("", "box-fixed-side-hung-top-hung-sliding", &["kind"], 2.0),
        at("", "box-hinges-left-or-right", &["hinge_side"], 1.0),
        at("", "box-unit-from-outside", &["unit.build_up"], 1.2),
        at("", "box-beads-or-putty", &["glazing"], 1.0),
    ],
);

/// What the sash is made of, and how it is to be taken.
pub(super) const MORE: Part = part(
    "",
    "sash[].",
    ONE,
    &[
        at("", "box-timber-if-known", &["timber"], 1.1),
        at("", "box-graded-c16-c24-d30", &["timber_class"], 0.9),
        at("", "box-one-unit-behind-bars", &["bars_as"], 1.4),
        at("", "box-wind-pa", &["wind"], 0.7),
    ],
);

/// Front of the sheet, below the pictures.
pub(super) const FRONT: &[Part] = &[
    part(
        "",
        "sash[].",
        ONE,
        &[
            at("A", "box-sight-width", &["sight.width", "sight.widths"], 1.1),
            at("", "box-in-the-middle", &["sight.widths"], 1.0),
            at("", "box-at-the-top", &["sight.widths"], 1.0),
            at("B", "box-sight-height", &["sight.height", "sight.heights"], 1.1),
            at("", "box-in-the-middle", &["sight.heights"], 1.0),
            at("", "box-at-the-right", &["sight.heights"], 1.0),
        ],
    ),
    part(
        "",
        "sash[].",
        ONE,
        &[
            at("C", "box-diagonal-up", &["sight.diagonals"], 1.1),
            at("D", "box-diagonal-up-to-the-left", &["sight.diagonals"], 1.1),
            at("", "box-each-may-be", &["sight.tolerance"], 1.0),
            at("E", "box-overall-width", &["overall.width"], 1.0),
            at("F", "box-overall-height", &["overall.height"], 1.0),
            at("", "box-horns-past-the-top", &["horns.top", "horns.bottom"], 1.3),
        ],
    ),
    part(
        "",
        "sash[].",
        ONE,
        &[
            at("G", "box-left-stile", &["stiles.left", "stiles.width"], 1.0),
            at("H", "box-right-stile", &["stiles.right", "stiles.width"], 1.0),
            at("I", "box-top-rail", &["rails.top", "rails.width"], 1.0),
            at("J", "box-bottom-rail", &["rails.bottom", "rails.width"], 1.0),
            at("K", "box-thickness", &["thickness"], 1.0),
            at("L", "box-rebate-width", &["rebate.width"], 1.0),
            at("M", "box-rebate-depth", &["rebate.depth"], 1.0),
        ],
    ),
    part(
        "",
        "sash[].",
        ONE,
        &[
            at(
                "",
                "box-moulding-square-chamfer-ovolo",
                &["moulding.shape", "moulding.points"],
                2.0,
            ),
            at("N", "box-moulding-width", &["moulding.width"], 1.1),
            at("O", "box-moulding-depth", &["moulding.depth"], 1.1),
            at("P", "box-groove-from-face", &["groove.from_face"], 1.1),
            at("Q", "box-groove-width", &["groove.width"], 1.1),
            at("R", "box-groove-depth", &["groove.depth"], 1.1),
        ],
    ),
];

/// The unit and its place, where they are not as usual.
pub(super) const UNIT: &[Part] = &[
    part(
        "box-the-unit-to-fit",
        "sash[].",
        ONE,
        &[
            at("", "box-cover-behind-sight-edge", &["unit.cover"], 1.2),
            at("", "box-height-of-spacer", &["unit.spacer_height"], 1.3),
            at("", "box-thicker-by-at-most", &["unit.over"], 1.0),
            at("", "box-edge-tape", &["unit.tape"], 0.8),
            at("", "box-internal-bar", &["unit.internal_bar"], 1.2),
            at("", "box-square-or-shaped", &["unit.shape"], 1.0),
            at("", "box-order-step", &["unit.order_step"], 1.1),
        ],
    ),
    part(
        "",
        "sash[].",
        ONE,
        &[
            at("", "box-gap-left", &["clearance.left"], 1.0),
            at("", "box-gap-right", &["clearance.right"], 1.0),
            at("", "box-gap-at-the-top", &["clearance.top"], 1.0),
            at("", "box-gap-at-the-bottom", &["clearance.bottom"], 1.2),
            at("", "box-blocks-height", &["blocks.height"], 1.0),
            at("", "box-bed-under-unit", &["finish.bed"], 0.9),
            at("", "box-bead-over-unit", &["finish.bead"], 0.9),
            at("", "box-bead-proud-of-face", &["finish.proud"], 0.9),
            at("", "box-drained-or-bedded", &["drainage"], 0.9),
        ],
    ),
];

/// Back of the sheet.
pub(super) const MEMBERS: Part = part(
    "box-members-write-what-differs",
    "sash[].member.side.",
    &["box-left-stile", "box-right-stile", "box-top-rail", "box-bottom-rail"],
    &[
        at("", "box-width", &["width"], 1.0),
        at("K", "box-thick", &["thickness"], 1.0),
        at("L", "box-rebate-width", &["rebate.width"], 1.0),
        at("M", "box-rebate-depth", &["rebate.depth"], 1.0),
        at("P", "box-groove-face", &["groove.from_face"], 1.1),
        at("Q", "box-groove-width", &["groove.width"], 1.1),
        at("R", "box-groove-depth", &["groove.depth"], 1.0),
        at("", "box-shape", &["moulding.shape", "moulding.points"], 1.2),
        at("N", "box-its-width", &["moulding.width"], 1.1),
        at("O", "box-its-depth", &["moulding.depth"], 1.1),
        at("S", "box-tenon-thick", &["tenon.thickness"], 1.1),
        at("T", "box-tenon-face", &["tenon.from_face"], 1.1),
        at("", "box-haunch-only", &["tenon.haunch"], 1.05),
    ],
);

/// Bars.
pub(super) const BARS: Part = part(
    "box-glazing-bars-write-what",
    "sash[].bars[].",
    FIVE,
    &[
        at("", "box-upright-cross-slanting-curved", &["runs"], 1.0),
        at("U", "box-centre-from-left", &["centre", "from", "to", "rise", "bulges"], 1.5),
        at("V", "box-width-seen", &["width"], 1.2),
        at("K", "box-thickness", &["thickness"], 1.0),
        at("L", "box-rebate-width", &["rebate.width"], 1.0),
        at("M", "box-rebate-depth", &["rebate.depth"], 1.0),
        at("", "box-shape", &["moulding.shape", "moulding.points"], 1.2),
        at("N", "box-its-width", &["moulding.width"], 1.1),
        at("O", "box-its-depth", &["moulding.depth"], 1.1),
    ],
);

/// Screws, metal and clamps.
pub(super) const FIXINGS: &[Part] = &[
    part(
        "box-screws-of-hinges-lifts",
        "sash[].screws[].",
        TWO,
        &[
            at("", "box-member-drawn", &["member", "cleared"], 1.6),
            at("", "box-in-by-the-outer", &["from"], 1.6),
            at("W", "box-along-the-member-y", &["at"], 1.6),
            at("X", "box-length-in-the-wood", &["length"], 1.1),
            at("Y", "box-outer-edge-from-glazing", &["from_face"], 1.3),
            at("Z", "box-room-face-from-sight", &["from_sight"], 1.3),
        ],
    ),
    part(
        "box-metal-that-the-magnet",
        "sash[].metal[].",
        TWO,
        &[
            at("", "box-what-it-is", &["name"], 2.0),
            at("", "box-x-from-left-sight", &["at"], 1.2),
            at("", "box-y-from-bottom-sight", &["at"], 1.2),
            at("", "box-all-within", &["radius"], 0.9),
            at("", "box-from-glazing-face", &["from_face"], 1.1),
            at("", "box-drawn-true-or-false", &["cleared"], 1.1),
        ],
    ),
    part(
        "box-what-holds-the-sash",
        "sash[].clamps[].",
        &["1"],
        &[
            at("", "box-what-it-is", &["name"], 2.0),
            at("", "box-x-of-its-lower", &["at"], 1.2),
            at("", "box-y-of-its-lower", &["at"], 1.2),
            at("", "box-size-along-x", &["size"], 1.0),
            at("", "box-size-along-y", &["size"], 1.0),
            at("", "box-height-over-glazing-face", &["height"], 1.2),
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
            at("", "box-head-segmental-semicircular", &["head.shape"], 2.2),
            at("a", "box-rise", &["head.rise"], 1.0),
            at("b", "box-radius", &["head.radius"], 1.0),
            at("c", "box-height-at-the-left", &["head.left"], 1.0),
            at("d", "box-height-at-the-right", &["head.right"], 1.0),
            at("e", "box-diameter", &["diameter"], 1.0),
        ],
    ),
    part(
        "",
        "sash[].",
        ONE,
        &[
            at("f", "box-left-edge-bowed-out", &["sight.bow.left"], 1.2),
            at("f", "box-right-edge", &["sight.bow.right"], 1.0),
            at("f", "box-top-edge", &["sight.bow.top"], 1.0),
            at("f", "box-bottom-edge", &["sight.bow.bottom"], 1.0),
            at("", "box-glass-square-or-shaped", &["unit.shape"], 1.8),
        ],
    ),
    part(
        "box-any-other-shape",
        "sash[].sight.",
        &["X", "Y", "box-bulge"],
        &[
            at("", "box-corner-1", &["outline"], 1.0),
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
        "box-what-carries-the-sash",
        "sash[].",
        ONE,
        &[
            at("", "box-hinges-how-many", &["hinges.count"], 1.0),
            at("", "box-outermost-two-apart", &["hinges.apart"], 1.1),
            at("", "box-screws-in-each", &["hinges.screws"], 1.0),
            at("", "box-screw-diameter", &["hinges.diameter"], 1.1),
            at("", "box-thread-in-wood", &["hinges.thread", "hinges.cleared"], 1.0),
            at("", "box-top-hung-opens-degrees", &["opens"], 1.1),
        ],
    ),
    part(
        "",
        "sash[].",
        ONE,
        &[
            at(
                "",
                "box-cord-groove-deep-wide",
                &[
                    "cord_groove.depth",
                    "cord_groove.width",
                    "cord_groove.length",
                    "cord_groove.from_face",
                ],
                1.7,
            ),
            at("", "box-weight-box-thickest-weight", &["weights.diameter"], 1.2),
            at("", "box-pulley-to-bottom", &["weights.height"], 1.1),
            at("", "box-sash-slides", &["weights.travel"], 1.0),
            at("", "box-one-old-weight-kg", &["weights.old"], 1.0),
            at("", "box-old-panes-thickness", &["old_glass"], 1.0),
            at("", "box-twisted-the-face-high", &["surface"], 1.4),
        ],
    ),
    part(
        "box-where-it-is",
        "sash[].place.",
        ONE,
        &[
            at("", "box-england-us-or-other", &["country"], 1.2),
            at("", "box-window-door-beside-door", &["opening"], 1.4),
            at("", "box-floor-to-sight-edge", &["floor"], 1.0),
            at("", "box-glass-to-walkway", &["walkway"], 1.0),
            at("", "box-near-door-guard-wet", &["near"], 1.6),
            at("", "box-floor-to-ground-outside", &["drop"], 1.1),
            at("", "box-year-built", &["built"], 0.8),
            at("", "box-listed-true-or-false", &["listed"], 1.0),
        ],
    ),
    part(
        "box-what-more-the-unit",
        "sash[].unit.",
        ONE,
        &[
            at("", "box-air-argon-krypton-xenon", &["gas"], 1.4),
            at("", "box-its-share", &["share"], 0.8),
            at("", "box-emissivity-of-the-coat", &["emissivity"], 1.2),
            at("", "box-spacer-metal-or-improved", &["spacer"], 1.4),
            at("", "box-annealed-toughened", &["glass"], 1.7),
        ],
    ),
];

/// The page of the workshop.
pub(super) const WORKSHOP: &[Part] = &[
    part("", "", ONE, &[at("", "box-name-of-the-house", &["house"], 1.0)]),
    part(
        "box-cutter-flat-ended",
        "workshop.cutter.",
        ONE,
        &[
            at("", "box-end-flat", &["kind"], 0.8),
            at("", "box-diameter", &["diameter"], 1.0),
            at("", "box-cutting-edges", &["flutes"], 1.0),
            at("", "box-length-of-the-edges", &["cutting_length"], 1.2),
            at("", "box-shank-diameter", &["shank_diameter"], 1.2),
            at("", "box-nut-or-nose-diameter", &["holder.diameter"], 1.2),
            at("", "box-tip-stands-out", &["holder.stick_out"], 1.2),
        ],
    ),
    part(
        "",
        "workshop.machine.corner_cutter.",
        ONE,
        &[
            at("", "box-for-the-corners-thinner", &["kind"], 1.2),
            at("", "box-diameter", &["diameter"], 1.0),
            at("", "box-edges", &["flutes"], 0.8),
            at("", "box-length-of-the-edges", &["cutting_length"], 1.2),
            at("", "box-shank-diameter", &["shank_diameter"], 1.2),
            at("", "box-nut-or-nose-diameter", &["holder.diameter"], 1.2),
            at("", "box-tip-stands-out", &["holder.stick_out"], 1.2),
        ],
    ),
    part(
        "box-hand-router",
        "workshop.router.",
        ONE,
        &[
            at("", "box-diameter-of-the-round", &["base_diameter"], 1.2),
            at("", "box-guide-bush-outside", &["guide_bush"], 1.0),
            at("", "box-guided-by-bush", &["guided_by"], 1.4),
            at("", "box-thickness-of-template-plates", &["plate"], 1.2),
            at("", "box-bearing-under-the-tip", &["bearing.diameter"], 1.3),
            at("", "box-its-height-5", &["bearing.height"], 1.0),
        ],
    ),
    part(
        "box-machine-write-only",
        "workshop.machine.",
        ONE,
        &[
            at("", "box-travel-x", &["bed"], 1.0),
            at("", "box-travel-y", &["bed"], 1.0),
            at("", "box-clear-height-by-clamps", &["clear_height"], 1.4),
            at("", "box-x-of-the-zero", &["zero"], 1.4),
            at("", "box-y-of-the-zero", &["zero"], 1.4),
            at("", "box-room-past-travel-left", &["overhang.left"], 0.9),
            at("", "box-right", &["overhang.right"], 0.8),
        ],
    ),
    part(
        "",
        "workshop.machine.",
        ONE,
        &[
            at("", "box-largest-feed-a-minute", &["max_feed"], 1.2),
            at("", "box-straight-down-a-minute", &["max_plunge"], 1.2),
            at("", "box-rapid-moves-a-minute", &["rapid"], 1.2),
            at("", "box-spindle-at-most-turns", &["spindle"], 1.3),
            at("", "box-at-least", &["spindle_slowest"], 0.8),
            at("", "box-seconds-to-speed", &["spindle_wait"], 0.8),
            at("", "box-spoil-board-thickness", &["spoil_board"], 0.9),
            at("", "box-programs-stage-or-one", &["programs"], 0.9),
            at("", "box-room-past-travel-front", &["overhang.front"], 0.9),
            at("", "box-back", &["overhang.back"], 0.8),
        ],
    ),
    part(
        "box-how-it-is-cut",
        "workshop.cutting.",
        ONE,
        &[
            at("", "box-deepest-step", &["step_depth"], 0.9),
            at("", "box-deepest-while-widening", &["widen_step"], 1.0),
            at("", "box-bite-share-of-cutter", &["side_step"], 1.0),
            at("", "box-scoring-cut-depth", &["score_depth"], 1.0),
            at("", "box-left-for-the-last", &["finish_allowance"], 1.2),
            at("", "box-chip-for-an-edge", &["chip_load"], 1.1),
            at("", "box-against-or-with", &["direction"], 1.3),
            at("", "box-tolerance", &["tolerance"], 1.0),
            at("", "box-zero", &["zero_error"], 1.0),
        ],
    ),
    part(
        "box-printer",
        "workshop.printer.",
        ONE,
        &[
            at("", "box-a4-a3-letter", &["paper"], 1.2),
            at("", "box-width-of-the-roll", &["roll_width"], 1.0),
            at("", "box-edge-left-white", &["margin"], 1.0),
            at("", "box-overlap-of-tiles", &["overlap"], 1.0),
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
