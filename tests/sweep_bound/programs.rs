//! A small piece of wood, and random programs that cut it.

use fillister::geometry::{Arc, Edge, Outline, Region};
use fillister::rebate::Rebate;
use fillister::sash::Solid;
use kurbo::{Point, Rect, Vec2};
use std::f64::consts::{PI, TAU};
use std::fmt::Write;

/// Of the cutter, mm.
pub(crate) const RADIUS: f64 = 3.0;
/// The opening between the walls.
pub(crate) const HOLE: Rect = Rect::new(0.0, 0.0, 40.0, 30.0);
/// All the wood.
pub(crate) const WHOLE: Rect = Rect::new(-4.0, -4.0, 44.0, 34.0);
/// Wood that must go.
pub(crate) const BIT: Rect = Rect::new(20.0, 16.0, 26.0, 20.0);
/// A round post that must stay: centre, radius, top.
pub(crate) const POST: (Point, f64, f64) = (Point::new(15.0, 9.0), 4.0, -2.0);
/// Tops of the floor, and undersides of the bit and of everything.
pub(crate) const FLOOR: f64 = -6.0;
pub(crate) const BIT_BOTTOM: f64 = -5.0;
pub(crate) const BOTTOM: f64 = -20.0;

pub(crate) fn rebate() -> Rebate {
    let solid = |name: &str, region, top, bottom| Solid {
        name: fillister::language::Text::name(name),
        region,
        top,
        bottom,
    };
    let rectangle = |rect| Outline::rectangle(rect).unwrap();
    let half = |start| Edge::Arc(Arc { centre: POST.0, radius: POST.1, start, sweep: PI });
    let post = Outline::new(vec![half(0.0), half(PI)]).unwrap();
    let around = Region { outline: rectangle(WHOLE), holes: vec![rectangle(HOLE)] };
    let floor = Region { outline: rectangle(HOLE), holes: vec![post.clone()] };
    Rebate {
        platform: FLOOR,
        pockets: vec![],
        go: vec![solid("bit", Region::solid(rectangle(BIT)), 0.0, BIT_BOTTOM)],
        may_go: vec![],
        stay: vec![
            solid("around", around, 0.0, BOTTOM),
            solid("post", Region::solid(post), POST.2, BOTTOM),
            solid("floor", floor, FLOOR, BOTTOM),
        ],
    }
}

/// A move below, entered straight down at its beginning.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Step {
    pub(crate) path: Edge,
    pub(crate) from_z: f64,
    pub(crate) to_z: f64,
}

/// SplitMix64 (Steele, Lea, Flood 2014).
struct Chance(u64);

impl Chance {
    fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        // As a program writes it.
        ((low + (high - low) * self.unit()) * 1e4).round() / 1e4
    }
}

/// The moves of program `case`. Every other one runs beside walls, post and floor, by −0.02 to 0.02 mm;
/// the others go anywhere.
pub(crate) fn steps(case: u64) -> Vec<Step> {
    let mut chance = Chance(case.wrapping_mul(0x5851_f42d_4c95_7f2d));
    let near = case.is_multiple_of(2);
    let count = 1 + (chance.unit() * if near { 3.0 } else { 4.0 }) as usize;
    let mut steps: Vec<Step> = (0..count)
        .map(|_| if near { beside(&mut chance) } else { anywhere(&mut chance) })
        .collect();
    if chance.unit() < 0.5 {
        // The bit, all but what some slip leaves of it.
        let slip = if chance.unit() < 0.5 { 0.0 } else { chance.between(0.0, 0.3) };
        let z = -5.0 + if chance.unit() < 0.5 { 0.0 } else { chance.between(0.0, 0.1) };
        let (x0, x1) = (BIT.x0, BIT.x1 - slip);
        steps.push(level(Edge::line(Point::new(x0, 18.0), Point::new(x1, 18.0)), z));
        steps.push(level(Edge::line(Point::new(x0, 17.5), Point::new(x1 - RADIUS, 17.5)), z));
    }
    steps
}

fn level(path: Edge, z: f64) -> Step {
    Step { path, from_z: z, to_z: z }
}

fn anywhere(chance: &mut Chance) -> Step {
    let at = |chance: &mut Chance| Point::new(chance.between(1.0, 39.0), chance.between(1.0, 29.0));
    let from = at(chance);
    let path = match (chance.unit() * 5.0) as u32 {
        0 => Edge::line(from, Point::new(chance.between(1.0, 39.0), from.y)),
        1 => Edge::line(from, Point::new(from.x, chance.between(1.0, 29.0))),
        2 => Edge::line(from, at(chance)),
        _ => {
            let sweep = match (chance.unit() * 4.0) as u32 {
                0 => TAU,
                1 => -TAU,
                2 => chance.between(0.3, 6.0),
                _ => -chance.between(0.3, 6.0),
            };
            let (radius, start) = (chance.between(0.5, 9.0), chance.between(-3.0, 3.0));
            Edge::Arc(Arc { centre: from, radius, start, sweep })
        }
    };
    let z = chance.between(-7.0, -0.3);
    let to_z = if chance.unit() < 0.4 { z } else { chance.between(-7.0, -0.1) };
    Step { path, from_z: z, to_z }
}

/// A hair from a wall, the post or the floor.
fn beside(chance: &mut Chance) -> Step {
    let hair = |chance: &mut Chance| chance.between(-0.02, 0.02);
    let deep = chance.between(-5.9, -2.1);
    let (path, from_z, to_z) = match (chance.unit() * 5.0) as u32 {
        // Along a wall, level or sloping.
        0 => {
            let y = HOLE.y1 - RADIUS - hair(chance);
            let (a, b) = (chance.between(4.0, 20.0), chance.between(21.0, 36.0));
            (Edge::line(Point::new(a, y), Point::new(b, y)), -0.5, deep)
        }
        // Towards a wall.
        1 => {
            let to = Point::new(HOLE.x0 + RADIUS + hair(chance), chance.between(16.0, 26.0));
            let from = to + Vec2::new(chance.between(3.0, 9.0), chance.between(-6.0, 0.0));
            (Edge::line(from, to), deep, deep)
        }
        // Around the post.
        2 => {
            let radius = POST.1 + RADIUS + hair(chance);
            let start = chance.between(-3.0, 3.0);
            // Where the wall is near, not.
            let sweep = chance.between(0.3, 6.2);
            (Edge::Arc(Arc { centre: POST.0, radius, start, sweep }), deep, deep)
        }
        // Along the floor, and down to it.
        3 => {
            let z = FLOOR + hair(chance);
            let (a, b) = (chance.between(24.0, 28.0), chance.between(29.0, 36.0));
            (Edge::line(Point::new(a, 7.0), Point::new(b, 12.0)), -1.0, z)
        }
        // Over the post, down to its top.
        _ => {
            let z = POST.2 + hair(chance);
            let to = POST.0 + Vec2::new(chance.between(-3.0, 3.0), chance.between(-3.0, 3.0));
            (Edge::line(Point::new(28.0, 9.0), to), -0.4, z)
        }
    };
    Step { path, from_z, to_z }
}

/// Text of a program that runs through `steps`, each joined to the next at a safe height.
pub(crate) fn text(steps: &[Step]) -> String {
    let mut text = String::from("G21 G90 G17\nG0 Z8\nS5000 M3\nG0 X0 Y0\nF100\n");
    for Step { path, from_z, to_z } in steps {
        let (a, b) = (path.start(), path.end());
        write!(text, "G0 X{:.9} Y{:.9}\nG1 Z{from_z:.9}\n", a.x, a.y).unwrap();
        match path {
            Edge::Line(_) => writeln!(text, "G1 X{:.9} Y{:.9} Z{to_z:.9}", b.x, b.y).unwrap(),
            Edge::Arc(arc) => {
                let to = arc.centre - a;
                let word = if arc.sweep > 0.0 { "G3" } else { "G2" };
                // A whole turn ends where it begins, to the last digit.
                let b = if arc.sweep.abs() == TAU { a } else { b };
                writeln!(
                    text,
                    "{word} X{:.9} Y{:.9} Z{to_z:.9} I{:.9} J{:.9}",
                    b.x, b.y, to.x, to.y
                )
                .unwrap();
            }
        }
        text.push_str("G0 Z8\n");
    }
    text + "M5\nM2\n"
}
