//! What the survey says of a sash, by name, so that two of them can be held against each other.

use crate::geometry::Side;
use crate::glass::Properties;
use crate::report::{Measured, Value};
use crate::survey::{BarsAs, Member, Moulding, OldGlazing, Sash, Tenon, UnitShape};

/// The measures of the survey that are told by name. What is not among them is told only as something else.
pub(super) fn measured(sash: &Sash) -> Vec<Measured> {
    let mut all = All(Vec::new());
    all.words("kind", sash.kind.name());
    all.words("timber", sash.timber.species.name);
    all.length("sight width", sash.sight.width);
    all.length("sight height", sash.sight.height);
    if let Some(outline) = &sash.outline {
        let area = outline.outline().area() / 1e6;
        all.words("daylight", &format!("{} edges, {area:.4} m²", outline.edges().count()));
    }
    for (side, member) in sash.members.iter() {
        all.member(sash.kind.member_name(side), member);
    }
    for (number, bar) in sash.bars.iter().enumerate() {
        let name = format!("bar {}", number + 1);
        all.length(&format!("{name} centre"), bar.centre);
        all.length(&format!("{name} width"), bar.width);
        all.length(&format!("{name} thickness"), bar.thickness);
        all.length(&format!("{name} rebate width"), bar.rebate_width);
        all.length(&format!("{name} rebate depth"), bar.rebate_depth);
        all.words(&format!("{name} moulding"), &moulding(&bar.moulding));
        all.tenon(&name, bar.tenon.as_ref());
    }
    let unit = &sash.unit;
    all.words(
        "bars as",
        if sash.bars_as == BarsAs::OneUnit { "one unit" } else { "a unit in each light" },
    );
    all.words("unit", &unit.build_up.to_string());
    all.words("unit's make", &Properties::of(&unit.make).words());
    all.words("unit's shape", if unit.shape == UnitShape::Shaped { "shaped" } else { "square" });
    for (what, length) in [
        ("unit thicker by", unit.over),
        ("cover", unit.cover),
        ("spacer height", unit.spacer_height),
        ("edge tape", unit.tape),
        ("setting blocks", sash.block_height),
        ("bed", sash.finish.bed),
        ("bead", sash.finish.bead),
        ("bead proud", sash.finish.proud),
    ] {
        all.length(what, length);
    }
    for side in Side::ALL {
        all.length(&format!("gap wanted at the {side}"), *sash.clearance.get(side));
    }
    for (what, count) in [
        ("metal", sash.metal.len()),
        ("screws", sash.screws.len()),
        ("clamps", sash.clamps.len()),
        ("heights of the face", sash.surface.len()),
    ] {
        all.words(what, &count.to_string());
    }
    all.words("wind", &sash.wind.told().to_string());
    all.0
}

struct All(Vec<Measured>);

impl All {
    fn length(&mut self, what: &str, length: f64) {
        self.0.push(Measured { what: what.to_owned(), is: Value::Length(length) });
    }

    fn words(&mut self, what: &str, words: &str) {
        self.0.push(Measured { what: what.to_owned(), is: Value::Words(words.to_owned()) });
    }

    fn member(&mut self, name: &str, member: &Member) {
        self.length(&format!("{name} width"), member.width);
        self.length(&format!("{name} thickness"), member.thickness);
        match member.old {
            OldGlazing::Rebate { width, depth } => {
                self.length(&format!("{name} old rebate width"), width);
                self.length(&format!("{name} old rebate depth"), depth);
            }
            OldGlazing::Groove { from_face, width, depth } => {
                self.length(&format!("{name} groove from the face"), from_face);
                self.length(&format!("{name} groove width"), width);
                self.length(&format!("{name} groove depth"), depth);
            }
        }
        self.words(&format!("{name} moulding"), &moulding(&member.moulding));
        self.tenon(name, member.tenon.as_ref());
    }

    fn tenon(&mut self, name: &str, tenon: Option<&Tenon>) {
        let Some(tenon) = tenon else { return };
        self.length(&format!("{name} tenon thickness"), tenon.thickness);
        self.length(&format!("{name} tenon from the face"), tenon.from_face);
        self.length(&format!("{name} tenon haunch"), tenon.haunch);
    }
}

fn moulding(moulding: &Moulding) -> String {
    let sized = |shape: &str, width: &f64, depth: &f64| format!("{shape} {width} x {depth}");
    match moulding {
        Moulding::Square => "square".to_owned(),
        Moulding::Chamfer { width, depth } => sized("chamfer", width, depth),
        Moulding::Ovolo { width, depth } => sized("ovolo", width, depth),
        Moulding::Ogee { width, depth } => sized("ogee", width, depth),
        Moulding::Traced(points) => format!("traced, {} points", points.len()),
    }
}
