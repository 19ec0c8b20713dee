//! A job laid over a face that is not flat: every cut lifted or lowered as the face lies, by code that has no
//! part in planning or proving. What does harm on the flat sash does the same harm there.

use crate::planted_faults::job::{Job, Text, is_remark};
use fillister::geometry::Surface;
use fillister::prove::Setup;
use kurbo::{Point, Rect, Vec2};
use std::f64::consts::TAU;
use std::fmt::Write;

/// Height to which the air run comes down over the corners, mm.
const ABOVE: f64 = 2.0;

/// Furthest that a piece of a cut may leave the face, mm.
const OFF: f64 = 5e-5;
/// Above this the cutter is in the air, and lifted by as much as the highest face, mm.
const AIR: f64 = 0.5;
/// Turn of a piece of an arc, radians: the face leaves it by less than [`OFF`].
const TURN: f64 = 0.05;

/// A face tilted, twisted and cupped over a small sash, mm high where it is most.
pub(crate) fn face() -> Surface {
    let z = |x: f64, y: f64| 2e-4 * x - 3e-4 * y + 4e-6 * x * y + 2e-6 * y * y - 0.1;
    let places = [-40.0, 30.0, 110.0].into_iter().flat_map(|x| [-40.0, 25.0, 90.0].map(|y| (x, y)));
    let heights: Vec<_> = places.map(|(x, y)| (Point::new(x, y), z(x, y))).collect();
    let surface = Surface::fit(&heights).unwrap().surface;
    assert!((surface.height(Point::new(70.0, 60.0)) - z(70.0, 60.0)).abs() < 1e-9);
    surface
}

/// Limits on that face which, with what the prover keeps for laying it flat, come to those of `setup`: a
/// quarter of the tolerance and what the cutter's rim stands off.
pub(crate) fn setup(setup: &Setup, surface: Surface, around: Rect) -> Setup {
    let rim = surface.rim(around, setup.radius());
    let tolerance = (setup.tolerance + rim) / 0.75;
    // The rim that may take a finishing cut keeps its width.
    let skim = setup.skim - (tolerance - setup.tolerance) / std::f64::consts::SQRT_2;
    Setup { tolerance, skim, surface, ..setup.clone() }
}

/// The programs over the face; none where one holds words that no planner writes.
pub(crate) fn sheared(job: &Job, surface: &Surface, around: Rect) -> Option<Vec<Text>> {
    let lift = surface.range(around).1.max(0.0);
    let clear = job.setup.clear_height - job.setup.tolerance;
    job.texts
        .iter()
        .map(|text| {
            if text.bytes.is_some() {
                return None;
            }
            let mut shear =
                Shear { surface, lift, motion: None, at: None, z: None, clear, out: String::new() };
            text.lines.iter().try_for_each(|line| shear.line(line))?;
            Some(Text { ending: text.ending, ..Text::new(&text.name, &shear.out) })
        })
        .collect()
}

struct Shear<'a> {
    surface: &'a Surface,
    lift: f64,
    motion: Option<u8>,
    at: Option<Point>,
    /// On the flat sash.
    z: Option<f64>,
    /// Least height of a rapid move there.
    clear: f64,
    out: String,
}

impl Shear<'_> {
    fn line(&mut self, line: &str) -> Option<()> {
        if is_remark(line) || line.trim().is_empty() {
            writeln!(self.out, "{line}").ok()?;
            return Some(());
        }
        let (mut axes, mut others, mut runs) = ([None; 5], String::new(), false);
        for word in line.split_whitespace() {
            let (letter, number) = (word.chars().next()?, word.get(1..)?.parse::<f64>().ok()?);
            if let Some(axis) = "XYZIJ".find(letter) {
                // A word said twice would be lost here, and with it the fault.
                if axes[axis].replace(number).is_some() {
                    return None;
                }
                continue;
            }
            match (letter, number) {
                ('G', 0.0 | 1.0 | 2.0 | 3.0) => self.motion = Some(number as u8),
                ('G', 4.0 | 17.0 | 21.0 | 40.0 | 49.0 | 80.0 | 90.0 | 91.1 | 94.0)
                | ('F' | 'S' | 'P', _) => {}
                ('M', _) => runs = true,
                _ => return None,
            }
            if letter != 'G' || number > 3.0 {
                write!(others, "{word} ").ok()?;
            }
        }
        if !others.is_empty() {
            writeln!(self.out, "{}", others.trim_end()).ok()?;
        }
        if axes.iter().all(Option::is_none) {
            return Some(());
        }
        // In one line with a move their order would matter.
        if runs { None } else { self.go(axes) }
    }

    fn go(&mut self, [x, y, z, i, j]: [Option<f64>; 5]) -> Option<()> {
        let to_z = z.or(self.z)?;
        // In the air all is lifted as high as the highest face: what is too low there by less is not over
        // the rest of it, and the fault would be lost.
        if to_z > AIR && to_z < self.clear && to_z != ABOVE {
            return None;
        }
        let motion = self.motion?;
        let Some(at) = self.at else {
            // Up, then over the wood. To half a place would be lost, and with it the fault.
            if x.is_some() != y.is_some() {
                return None;
            }
            let lift = self.lift;
            (self.at, self.z) = (x.zip(y).map(Point::from), Some(to_z));
            if let Some(at) = self.at {
                writeln!(self.out, "G{motion} X{:.4} Y{:.4} Z{:.4}", at.x, at.y, to_z + lift)
                    .ok()?;
            } else {
                writeln!(self.out, "G{motion} Z{:.4}", to_z + lift).ok()?;
            }
            return (to_z > AIR && motion == 0).then_some(());
        };
        let from_z = self.z?;
        let to = Point::new(x.unwrap_or(at.x), y.unwrap_or(at.y));
        if motion < 2 {
            if i.or(j).is_some() {
                return None;
            }
            let chord = f64::midpoint(self.surface.height(at), self.surface.height(to));
            let off = (self.surface.height(at.midpoint(to)) - chord).abs();
            let count = (off / OFF).sqrt().ceil().max(1.0);
            let air = motion == 0 && from_z == to_z && to_z > AIR;
            let count = if air { 1.0 } else { count };
            self.pieces(count, |share| at.lerp(to, share), from_z, to_z, None)?;
        } else {
            let centre = at + Vec2::new(i.unwrap_or(0.0), j.unwrap_or(0.0));
            let (first, last) = (at - centre, to - centre);
            if (first.hypot() - last.hypot()).abs() > 3e-4 || to == at || i.or(j).is_none() {
                return None;
            }
            let way = if motion == 2 { -1.0 } else { 1.0 };
            let turn = (way * (last.atan2() - first.atan2())).rem_euclid(TAU);
            let count = (turn / TURN).ceil().max(1.0);
            let place = |share: f64| {
                if share >= 1.0 {
                    return to;
                }
                centre + first.hypot() * Vec2::from_angle(first.atan2() + way * turn * share)
            };
            self.pieces(count, place, from_z, to_z, Some(centre))?;
        }
        (self.at, self.z) = (Some(to), Some(to_z));
        Some(())
    }

    fn pieces(
        &mut self,
        count: f64,
        place: impl Fn(f64) -> Point,
        from_z: f64,
        to_z: f64,
        centre: Option<Point>,
    ) -> Option<()> {
        let round = |value: f64| (value * 1e4).round() / 1e4;
        let motion = self.motion?;
        let mut start = place(0.0);
        let mut index = 1.0;
        while index <= count {
            let share = index / count;
            let at = place(share);
            let z = from_z + (to_z - from_z) * share;
            let z = z + if z > AIR { self.lift } else { self.surface.height(at) };
            write!(self.out, "G{motion} X{:.4} Y{:.4} Z{z:.4}", at.x, at.y).ok()?;
            if let Some(centre) = centre {
                let from = Point::new(round(start.x), round(start.y));
                write!(self.out, " I{:.4} J{:.4}", centre.x - from.x, centre.y - from.y).ok()?;
            }
            writeln!(self.out).ok()?;
            start = at;
            index += 1.0;
        }
        Some(())
    }
}
