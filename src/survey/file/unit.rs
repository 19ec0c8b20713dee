//! The tables of the unit, and of what it sits in.

use crate::input::{Entry, Node, Reader, choice, measures, show, table};
use crate::survey::values::{BuildUp, BuildUpError, Gas, Spacer, Treatment, UnitShape};
use serde_json::{Value, json};

measures! {
    Gap: length 0.0 100.0;
    Cover: length 1.0 100.0;
    Over: length 0.0 10.0;
    Filled: number 0.5 1.0 "";
    Emissivity: number 0.01 0.89 "";
    OrderStep: length 0.1 100.0;
}

choice! {
    UnitShapeWord: UnitShape {
        "square" => UnitShape::Square;
        "shaped" => UnitShape::Shaped;
    }
}

choice! {
    GasWord: Gas {
        "air" => Gas::Air;
        "argon" => Gas::Argon;
        "krypton" => Gas::Krypton;
        "xenon" => Gas::Xenon;
    }
}

choice! {
    SpacerWord: Spacer {
        "metal" => Spacer::Metal;
        "improved" | "warm edge" => Spacer::Improved;
    }
}

choice! {
    GlassWord: Treatment {
        "annealed" | "float" => Treatment::Annealed;
        "heat-strengthened" => Treatment::HeatStrengthened;
        "toughened" | "tempered" => Treatment::Toughened;
    }
}

/// `"4-6-4"`, or a bare thickness as text or number.
pub(crate) struct MakeUp;

impl Entry for MakeUp {
    type Value = BuildUp;

    fn read(node: &Node<'_>, reader: &mut Reader<'_>) -> Option<BuildUp> {
        use toml::de::DeValue;
        let text = match node.get_ref() {
            DeValue::String(text) => text.to_string(),
            DeValue::Float(float) => float.as_str().to_owned(),
            DeValue::Integer(integer) if integer.radix() == 10 => integer.as_str().to_owned(),
            _ => String::new(),
        };
        let build_up = text.parse().ok();
        if build_up.is_none() {
            let hint = if let Some(whole) = whole_thickness(&text) {
                Some(whole)
            } else if text.contains(['/', 'x', '–', '\u{2212}']) {
                Some("write the parts from the outside in with hyphens between them".to_owned())
            } else {
                None
            };
            reader.refuse(node.span(), Self::expected(), hint);
        }
        build_up
    }

    fn expected() -> String {
        BuildUpError.to_string()
    }

    fn schema() -> Value {
        json!({ "anyOf": [
            { "type": "string", "examples": ["4-6-4", "33.1-6-4", "6.4 lam.-6-4", "14"] },
            { "type": "number", "exclusiveMinimum": 0, "maximum": 100 },
        ] })
    }
}

/// What to write for a thickness with a unit, such as `14mm`: panes of 4 mm are the usual ones.
fn whole_thickness(text: &str) -> Option<String> {
    let whole: f64 = text.trim().strip_suffix("mm")?.trim_end().parse().ok()?;
    let cavity = whole - 8.0;
    (cavity >= 2.0 && whole <= 100.0).then(|| {
        let [whole, cavity] = [whole, cavity].map(show);
        format!(
            "{whole} mm in all may be \"4-{cavity}-4\": write panes and cavity, or {whole} alone if they are not known"
        )
    })
}

table! {
    /// The unit to fit.
    UnitTable {
        /// Panes and cavities from the outside in, "4-6-4", a laminated pane as 33.1 or 6.4 lam.; or the overall
        /// thickness alone.
        build_up: MakeUp, otherwise "the build-up in [defaults], which must then be there";
        /// How far the unit reaches behind the sight edge on each side.
        cover: Cover, default 12;
        /// Height of spacer and seal, from the unit's edge.
        spacer_height: Gap, otherwise "as the cover";
        /// How much thicker than its nominal thickness a unit may come.
        over: Over, otherwise "by EN 1279-1:2018 and its build-up";
        /// Thickness of edge tape on each edge.
        tape: Gap, default 0;
        /// Width of internal bars behind glazing bars.
        internal_bar: Gap, otherwise "as the cover";
        /// Whether the glass is a rectangle, "square", or follows the daylight, "shaped".
        shape: UnitShapeWord, otherwise "square, but shaped behind a head, a round sash or a free outline";
        /// The order size is rounded down to a whole number of these.
        order_step: OrderStep, default 1;
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
    }
}

table! {
    /// Gap between the unit's edge and the rebate wall.
    ClearanceTable {
        /// At the left.
        left: Gap, default 2;
        /// At the right.
        right: Gap, default 2;
        /// At the top.
        top: Gap, default 2;
        /// At the bottom, with room for the setting blocks.
        bottom: Gap, default 4;
    }
}

table! {
    /// Setting blocks.
    BlocksTable {
        /// Height of the blocks under the unit.
        height: Gap, otherwise "as the bottom clearance";
    }
}

table! {
    /// Bed and bead, or bed and face putty.
    FinishTable {
        /// Sealant or tape between platform and unit.
        bed: Gap, default 2;
        /// Height of the bead, or of the face putty, over the unit.
        bead: Gap, default 10;
        /// How far the bead may stand proud of the glazing face.
        proud: Gap, default 0;
    }
}
