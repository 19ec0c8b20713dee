//! The tables of the workshop.

use super::around::Celsius;
use super::names::FileName;
use super::unit::{Cover, Emissivity, Filled, Gap, GasWord, GlassWord, MakeUp, Over, SpacerWord};
use crate::input::{
    Bounds, DeclaredKey, Entry, Fill, Flag, Many, Node, Pair, Reader, Spanned, Whole, choice,
    measures, table,
};
use crate::survey::values::{
    CutterKind, Direction, GuidedBy, Limits, Measure, Paper, ProgramsAs, Spelling, TemplateAs,
};
use serde_json::{Value, json};
use toml::de::DeValue;

measures! {
    Allowed: length 0.0 10.0;
    Moisture: number 1.0 30.0 "per cent";
    Nose: length 1.0 300.0;
    Origin: length -10_000.0 10_000.0;
    Off: length 0.0 20.0;
    Diameter: length 1.0 50.0;
    ToolLength: length 1.0 200.0;
    Base: length 20.0 500.0;
    Bush: length 3.0 100.0;
    Plate: length 3.0 50.0;
    Race: length 1.0 50.0;
    Roll: length 200.0 2000.0;
    Margin: length 3.0 30.0;
    Overlap: length 5.0 50.0;
    Travel: length 50.0 10_000.0;
    Room: length 0.0 10_000.0;
    Board: length 0.0 100.0;
    Clear: length 0.5 200.0;
    Step: length 0.1 50.0;
    Skim: length 0.0 10.0;
    Exactness: length 0.001 2.0;
    ChipLoad: length 0.001 2.0;
    Feed: number 1.0 50_000.0 "mm/min";
    Turns: number 100.0 100_000.0 "turns a minute";
    Share: number 0.01 1.0 "";
    Seconds: number 0.0 60.0 "s";
}

choice! {
    DirectionWord: Direction {
        "against" | "conventional" => Direction::Against;
        "with" | "climb" => Direction::With;
    }
}

choice! {
    GuidedByWord: GuidedBy {
        "bush" => GuidedBy::Bush;
        "straightedge" => GuidedBy::Straightedge;
    }
}

choice! {
    TemplateAsWord: TemplateAs {
        "corners" => TemplateAs::Corners;
        "whole" => TemplateAs::Whole;
    }
}

choice! {
    SpellingWord: Spelling {
        "British" | "UK" => Spelling::British;
        "American" | "US" => Spelling::American;
    }
}

choice! {
    CutterKindWord: CutterKind {
        "flat" | "straight" => CutterKind::Flat;
        "bull-nosed" | "bull-nose" => CutterKind::BullNosed;
        "ball-nosed" | "ball-nose" => CutterKind::BallNosed;
        "bearing" => CutterKind::Bearing;
    }
}

choice! {
    ProgramsAsWord: ProgramsAs {
        "stage" => ProgramsAs::Stage;
        "one" => ProgramsAs::One;
    }
}

choice! {
    PaperWord: Paper {
        "A4" | "a4" => Paper::A4;
        "A3" | "a3" => Paper::A3;
        "Letter" | "letter" => Paper::Letter;
        "roll" => Paper::Roll;
    }
}

table! {
    /// What the workshop cuts with, and how.
    WorkshopTable {
        /// The flat-ended router cutter.
        cutter: CutterTable, otherwise "a 12 mm cutter";
        /// The hand router.
        router: RouterTable, otherwise "a 150 mm base with a 24 mm guide bush";
        /// The three-axis machine.
        machine: MachineTable, otherwise "a machine of 1200 by 1200 mm";
        /// What templates and sheets are printed on.
        printer: PrinterTable, otherwise "A4";
        /// How the wood is cut.
        cutting: CuttingTable, otherwise "every setting at its default";
        /// How far rule and router may be out.
        allowances: AllowancesTable, otherwise "every allowance at its default";
        /// The units to try each sash with.
        candidates: CandidatesTable, otherwise "the built-in list";
        /// Limits of the judgements that differ from the usual ones.
        limits: LimitsTable, otherwise "every limit at its default";
    }
}

table! {
    /// The units to try each sash with.
    CandidatesTable {
        /// Whether the built-in list is tried.
        usual: Flag, default true;
        /// Units to try besides, or instead.
        units: Many<OfferedTable>, otherwise "none but the built-in list";
    }
}

table! {
    /// A unit that can be ordered.
    OfferedTable {
        /// Panes and cavities from the outside in.
        build_up: MakeUp, needed;
        /// Gas in the cavities: "air", "argon", "krypton" or "xenon".
        gas: GasWord, otherwise "not stated, and reckoned as air";
        /// Its share by volume; the rest is air.
        share: Filled, default 0.9;
        /// Normal emissivity of the one coated face in each cavity, as its maker states it.
        emissivity: Emissivity, otherwise "not stated, and reckoned as plain glass";
        /// What keeps the panes apart: "metal" or "improved" (warm edge).
        spacer: SpacerWord, otherwise "not stated, and reckoned as metal";
        /// How the panes are treated: "annealed", "heat-strengthened" or "toughened".
        glass: GlassWord, otherwise "not stated, and reckoned as annealed";
        /// How far it must reach behind the sight edge.
        cover: Cover, otherwise "as in the sash";
        /// Height of spacer and seal.
        spacer_height: Gap, otherwise "as in the sash";
        /// How much thicker than its nominal thickness it may come.
        over: Over, otherwise "by EN 1279-1:2018 and its build-up";
    }
}

table! {
    /// A flat-ended cutter.
    CutterTable {
        /// What its end is: "flat". One that is "bull-nosed" or "ball-nosed", or runs on a "bearing", is refused.
        kind: CutterKindWord, default "\"flat\"" = CutterKind::Flat;
        /// Diameter.
        diameter: Diameter, default 12;
        /// Number of cutting edges.
        flutes: Whole<1, 8>, default 2;
        /// Length of the cutting edges.
        cutting_length: ToolLength, default 38;
        /// Diameter of the shank above the cutting edges.
        shank_diameter: Diameter, default 12;
        /// What holds the cutter: the nut or nose of the spindle.
        holder: HolderTable, otherwise "not known, and so not held against the wood";
    }
}

table! {
    /// A thinner flat-ended cutter, for the corners alone.
    CornerCutterTable {
        /// What its end is, as that of the cutter.
        kind: CutterKindWord, otherwise "\"flat\"";
        /// Diameter: less than the cutter's.
        diameter: Diameter, needed;
        /// Number of cutting edges.
        flutes: Whole<1, 8>, otherwise "as many as the cutter";
        /// Length of the cutting edges.
        cutting_length: ToolLength, needed;
        /// Diameter of the shank above the cutting edges.
        shank_diameter: Diameter, otherwise "as its diameter";
        /// What holds it.
        holder: HolderTable, otherwise "not known, and so not held against the wood";
    }
}

table! {
    /// What holds the cutter.
    HolderTable {
        /// Largest diameter of the nut or nose.
        diameter: Nose, needed;
        /// How far the cutter stands out of it, to the tip.
        stick_out: ToolLength, needed;
    }
}

table! {
    /// A hand router.
    RouterTable {
        /// Diameter of the round base.
        base_diameter: Base, default 150;
        /// Outer diameter of the guide bush.
        guide_bush: Bush, default 24;
        /// What guides it along the walls: a template under the guide "bush", or a "straightedge".
        guided_by: GuidedByWord, default "\"bush\"" = GuidedBy::Bush;
        /// Thickness of the plate that templates are cut from.
        plate: Plate, default 12;
        /// A ball bearing under the tip of the cutter.
        bearing: BearingTable, otherwise "none is judged; the workshop sheet tells which would do";
    }
}

table! {
    /// A ball bearing under the tip of a cutter, to run along upright wood below the cut.
    BearingTable {
        /// Outer diameter.
        diameter: Diameter, needed;
        /// Height of upright wood that it runs on.
        height: Race, otherwise "5 mm";
    }
}

table! {
    /// A printer, for templates at true size and for sheets.
    PrinterTable {
        /// "A4", "A3", "Letter", or "roll" for paper off a roll.
        paper: PaperWord, default "\"A4\"" = Paper::A4;
        /// Width of the roll.
        roll_width: Roll, default 610;
        /// Edge that the printer leaves white.
        margin: Margin, default 8;
        /// How far neighbouring tiles of a template show the same.
        overlap: Overlap, default 15;
        /// "corners" for corners and short lengths of the straight sides, "whole" for every line from end to end.
        template: TemplateAsWord, default "\"corners\"" = TemplateAs::Corners;
        /// Whether inches, to 1/32 in, stand beside millimetres on sheets.
        inches: Flag, default false;
        /// "British" or "American" words on sheets: rebate or rabbet, glazing bar or muntin.
        words: SpellingWord, default "\"British\"" = Spelling::British;
        /// Sheets in another language: the name of a file of texts, from the survey's folder on.
        words_file: FileName, otherwise "`words`";
    }
}

table! {
    /// A three-axis machine.
    MachineTable {
        /// Travel in X and in Y.
        bed: Pair<Travel>, default "[1200, 1200]" = [1200.0, 1200.0];
        /// Height above the glazing face at which rapid moves run.
        clear_height: Clear, otherwise "5 mm over the highest clamp and metal, and 30 mm where no clamp is told";
        /// Largest feed in the plane, mm/min.
        max_feed: Feed, default 1500;
        /// Largest feed straight down, mm/min.
        max_plunge: Feed, default 400;
        /// Speed of rapid moves, mm/min; for the estimate of time only.
        rapid: Feed, default 3000;
        /// Fastest spindle speed, turns a minute.
        spindle: Turns, default 18000;
        /// Slowest spindle speed; a slow machine turns the cutter down to it, so that it cuts and does
        /// not burn.
        spindle_slowest: Turns, default 8000;
        /// How long a program waits for the spindle to come to speed, in seconds.
        spindle_wait: Seconds, default 3;
        /// One program a "stage", or "one" for all stages, with a stop (M0) between two at which the joiner looks;
        /// a sash cut in several set-ups has one for each of them.
        programs: ProgramsAsWord, default "\"stage\"" = ProgramsAs::Stage;
        /// A thinner cutter that goes into the corners after the last stage, in a program of its own: only where a sash
        /// is cut in one place.
        corner_cutter: CornerCutterTable, otherwise "none: corners that a unit does not clear are left to the chisel";
        /// Where the sash's zero, the lower left corner of its sight, lies in the travel: X and Y from
        /// its lower left corner; programs then end behind the sash.
        zero: Pair<Origin>, otherwise "not known: only the span of the travel is judged, and programs end above the cut";
        /// Thickness of a spoil board under the whole sash that the cutter may run into; 0 where there is none:
        /// then no program may go below the room face.
        spoil_board: Board, default 0;
        /// How far a sash larger than the travel may reach past it.
        overhang: OverhangTable, otherwise "as far as it likes on every side";
    }
}

table! {
    /// Room beside the travel, as seen with X to the right and Y up, that is, to the back. Where a side is
    /// closed the sash is turned by 180 degrees, if that helps.
    OverhangTable {
        /// Past the end at small X.
        left: Room, otherwise "as far as it likes";
        /// Past the end at large X.
        right: Room, otherwise "as far as it likes";
        /// Past the end at small Y.
        front: Room, otherwise "as far as it likes";
        /// Past the end at large Y.
        back: Room, otherwise "as far as it likes";
    }
}

table! {
    /// How the wood is cut.
    CuttingTable {
        /// Deepest step of a pass.
        step_depth: Step, default 4;
        /// Deepest step of the first two cuts while widening, in old painted fibre.
        widen_step: Step, default 2.5;
        /// Widest bite sideways, as a share of the cutter's diameter.
        side_step: Share, default 0.5;
        /// Depth of the scoring cut; 0 for none.
        score_depth: Skim, default 1;
        /// Wood left on the walls for the finishing cut; 0 for none.
        finish_allowance: Skim, default 0.5;
        /// Chip load, for one cutting edge and turn.
        chip_load: ChipLoad, default 0.1;
        /// Which way the cutter runs: "against" its rotation (usual for old brittle wood) or "with" it.
        direction: DirectionWord, default "\"against\"" = Direction::Against;
        /// How exactly the cut must match the plan.
        tolerance: Exactness, default 0.05;
        /// How far off the zero may be set in X, Y or Z: the wood must bear as much.
        zero_error: Off, default 0.5;
    }
}

table! {
    /// How far rule and router may be out, and what the timber goes through.
    AllowancesTable {
        /// Measuring, rule or tape.
        measuring: Allowed, default 1;
        /// The place of wall and platform.
        cutting: Allowed, default 0.5;
        /// Moisture of the timber when it is cut, per cent.
        moisture_now: Moisture, default 12;
        /// The dampest it will be, per cent: as the NHBC Standards 6.7.7, table 4, have it for windows.
        moisture_most: Moisture, default 17;
        /// Glass when it is measured, °C.
        glass_now: Celsius, default 20;
        /// Glass in the sun, °C.
        glass_hot: Celsius, default 60;
    }
}

/// Limits by name, as [`Limits::NAMES`] lists them.
#[derive(Debug, Clone, Default)]
pub(crate) struct LimitsTable {
    /// Those that were set, in the order of the names.
    pub(crate) set: Vec<(&'static str, Spanned<f64>)>,
}

/// What the limit of that name may be.
fn bounds(name: &str) -> Bounds {
    match Limits::measure(name) {
        Measure::Millimetres => Bounds::length(0.0, 1000.0),
        Measure::Share => Bounds::number(0.0, 1.0, ""),
        Measure::Ratio => Bounds::number(1.0, 10_000.0, ""),
        Measure::Size => Bounds::length(0.0, 10_000.0),
        Measure::Kilograms => Bounds::number(0.0, 1000.0, "kg"),
    }
}

impl Fill for LimitsTable {
    fn fill(self, usual: &Self) -> Self {
        let of = |set: &[(&'static str, Spanned<f64>)], wanted: &str| {
            set.iter().find(|(name, _)| *name == wanted).cloned()
        };
        let both =
            Limits::NAMES.iter().filter_map(|name| of(&self.set, name).or(of(&usual.set, name)));
        LimitsTable { set: both.collect() }
    }
}

impl Entry for LimitsTable {
    type Value = LimitsTable;

    fn read(node: &Node<'_>, reader: &mut Reader<'_>) -> Option<LimitsTable> {
        let DeValue::Table(table) = node.get_ref() else {
            reader.refuse(node.span(), Self::expected(), None);
            return None;
        };
        for word in table.keys().filter(|word| !Limits::NAMES.contains(&word.get_ref().as_ref())) {
            reader.unknown_key(word.span(), word.get_ref(), Limits::NAMES);
        }
        let mut set = Vec::new();
        for &name in Limits::NAMES {
            let Some(node) = table.get(name) else { continue };
            reader.inside(format!(".{name}"), |reader| {
                let place = reader.place(node.span());
                let value = bounds(name).read(node, reader);
                set.extend(value.map(|value| (name, Spanned { value, place })));
            });
        }
        Some(LimitsTable { set })
    }

    fn expected() -> String {
        "a table of limits, such as front_stop = 5".to_owned()
    }

    fn list_keys(path: &str, found: &mut Vec<DeclaredKey>) {
        found.extend(Limits::NAMES.iter().map(|name| DeclaredKey {
            path: format!("{path}.{name}"),
            about: Limits::meaning(name).unwrap_or_default().to_owned(),
            needed: false,
            default: None,
            otherwise: Some("its usual value"),
            is_length: bounds(name).are_of_length(),
            spellings: Vec::new(),
        }));
    }

    fn schema() -> Value {
        let mut usual = Limits::default();
        let mut properties = serde_json::Map::new();
        for &name in Limits::NAMES {
            let mut schema = bounds(name).schema();
            if let (Some(fields), Some(limit)) = (schema.as_object_mut(), usual.by_name(name)) {
                let meaning = Limits::meaning(name).unwrap_or_default();
                let about = format!("{meaning} Rests on: {}.", limit.basis);
                fields.insert("description".into(), about.into());
                fields.insert("default".into(), json!(limit.value));
            }
            properties.insert(name.to_owned(), schema);
        }
        json!({
            "type": "object",
            "description": "Limits of the judgements.",
            "properties": properties,
            "additionalProperties": false,
        })
    }
}
