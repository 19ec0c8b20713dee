//! Faults of what stands round the program: cutter, holder, clamps, bed. Declared, since the program
//! is as planned.

use super::{Plant, Planted};
use crate::planted_faults::chance::Chance;
use crate::planted_faults::job::{Job, number};
use fillister::geometry::{Outline, Region};
use fillister::prove::Holder;
use fillister::sash::Solid;
use kurbo::{Point, Rect};

pub(super) const TABLE: &[(&str, Plant)] = &[
    ("cutting edges too short", short),
    ("shank thinner than the edges", slim),
    ("holder too low", |job, chance| holder(job, chance, &[-2.0, -0.1], Planted::Harm)),
    ("holder high enough", |job, chance| holder(job, chance, &[1.0, 5.0], Planted::NoHarm)),
    ("clamp in the way", |job, chance| clamp(job, chance, &[0.5, 4.0], Planted::Harm)),
    ("clamp below the way", |job, chance| clamp(job, chance, &[-3.0, -7.5], Planted::NoHarm)),
    ("bed ends too early", |job, chance| bed(job, chance, &[-0.1, -20.0], Planted::Harm)),
    ("bed just large enough", |job, chance| bed(job, chance, &[-0.01, 1.0], Planted::NoHarm)),
    ("machine too small", |job, chance| machine(job, chance, &[0.1, 30.0], Planted::Harm)),
    ("machine just large enough", |job, chance| {
        machine(job, chance, &[0.01, -1.0], Planted::NoHarm)
    }),
    ("chips too thick", thick_chips),
    ("settings without sense", nonsense),
];

/// Numbers of that letter in all programs, least and greatest.
fn span(job: &Job, letter: char) -> (f64, f64) {
    let lines = job.texts.iter().flat_map(|text| &text.lines);
    lines
        .filter_map(|line| number(line, letter))
        .fold((f64::MAX, f64::MIN), |(low, high), value| (low.min(value), high.max(value)))
}

/// Depth of the deepest cut, mm.
fn depth(job: &Job) -> f64 {
    -span(job, 'Z').0
}

/// The wall rubs on a shank that is as thick as the edges.
fn short(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    job.setup.cutting_length = depth(job) - chance.pick(&[0.1, 0.5, 2.0]);
    Some(Planted::Harm)
}

/// The shank clears the wall, and no step is as deep as the edges are long.
fn slim(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    job.setup.cutting_length = depth(job) - chance.pick(&[0.1, 0.5, 2.0]);
    job.setup.shank_diameter = job.setup.cutter_diameter - chance.pick(&[0.5, 2.0]);
    Some(Planted::NoHarm)
}

/// A wide nut over the face beside the wall: below the face it digs in.
fn holder(
    job: &mut Job,
    chance: &mut Chance,
    choices: &[f64],
    planted: Planted,
) -> Option<Planted> {
    let above = chance.pick(choices);
    // Short edges on a shank that clears the wall, so that the holder alone is at fault.
    job.setup.cutting_length = depth(job) - 3.0;
    job.setup.shank_diameter = job.setup.cutter_diameter - 0.5;
    let diameter = job.setup.cutter_diameter + chance.pick(&[10.0, 30.0]);
    job.setup.holder = Some(Holder { diameter, stick_out: depth(job) + above });
    Some(planted)
}

/// A clamp at the lower left corner of the sash, which an air run passes over at clear height that someone has led
/// there; the cuts stay far from it.
fn clamp(job: &mut Job, chance: &mut Chance, choices: &[f64], planted: Planted) -> Option<Planted> {
    let ((x0, _), (y0, _)) = (span(job, 'X'), span(job, 'Y'));
    let at = Point::new(x0 - 40.0, y0 - 40.0);
    let clear = job.setup.clear_height;
    let top = clear + chance.pick(choices);
    let air_run = job.texts.first_mut()?;
    let end = air_run.find(|line| line == "M5").pop()?;
    air_run.lines.insert(end, format!("G0 X{:.4} Y{:.4}", at.x, at.y));
    let around = Rect::from_center_size(at, (4.0, 4.0));
    let region = Region::solid(Outline::rectangle(around).ok()?);
    job.setup.obstacles.push(Solid {
        name: fillister::language::Text::name("clamp"),
        region,
        top,
        bottom: 0.0,
    });
    Some(planted)
}

/// The bed ends short of the sash, or just beyond it.
fn bed(job: &mut Job, chance: &mut Chance, choices: &[f64], planted: Planted) -> Option<Planted> {
    let ((x0, x1), (y0, y1)) = (span(job, 'X'), span(job, 'Y'));
    let by = chance.pick(choices);
    let mut area = Rect::new(x0 - 1.0, y0 - 1.0, x1 + 1.0, y1 + 1.0);
    match chance.below(4) {
        0 => area.x0 = x0 - by,
        1 => area.x1 = x1 + by,
        2 => area.y0 = y0 - by,
        _ => area.y1 = y1 + by,
    }
    job.setup.bed_area = Some(area);
    Some(planted)
}

/// The cuts go to both ends.
fn machine(
    job: &mut Job,
    chance: &mut Chance,
    choices: &[f64],
    planted: Planted,
) -> Option<Planted> {
    let axis = chance.below(2);
    let (low, high) = span(job, ['X', 'Y'][axis]);
    let less = chance.pick(choices);
    job.setup.travel[axis] = high - low - less;
    Some(planted)
}

/// Feed over speed over edges is the chip of a cut at least half as wide as the cutter.
fn thick_chips(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let chip = span(job, 'F').1 / span(job, 'S').0 / f64::from(job.setup.flutes);
    let (share, planted) =
        chance.pick(&[(0.3, Planted::Harm), (0.7, Planted::Harm), (1.01, Planted::NoHarm)]);
    job.setup.most_chip = chip * share;
    Some(planted)
}

fn nonsense(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let setup = &mut job.setup;
    let fields = [
        &mut setup.cutter_diameter,
        &mut setup.cutting_length,
        &mut setup.shank_diameter,
        &mut setup.travel[0],
        &mut setup.clear_height,
        &mut setup.max_feed,
        &mut setup.max_plunge,
        &mut setup.most_chip,
        &mut setup.least_chip,
        &mut setup.step_depth,
        &mut setup.ramp_angle,
        &mut setup.tolerance,
    ];
    let count = fields.len();
    if let Some(field) = fields.into_iter().nth(chance.below(count)) {
        *field = chance.pick(&[f64::NAN, 0.0, -1.0, f64::INFINITY]);
    }
    Some(Planted::Harm)
}
