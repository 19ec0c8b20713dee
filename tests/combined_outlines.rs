//! Shared, less and joined on random regions of lines and arcs, many of which touch, coincide or are
//! offsets of each other.
//!
//! Checked against what holds for any two sets: areas add up, and a point lies in the result exactly
//! if it should by where it lies in the two. `FILLISTER_CASES` sets the number of pairs.

use fillister::geometry::{Arc, Edge, Join, Outline, Region, SMALLEST, THINNEST};
use kurbo::{Point, Rect, Vec2};
use std::f64::consts::TAU;

/// A plain xorshift generator: equal numbers everywhere.
struct Dice(u64);

impl Dice {
    fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        let share = f64::from(u32::try_from(self.0 >> 32).unwrap()) / f64::from(u32::MAX);
        low + (high - low) * share
    }

    fn pick<T: Copy>(&mut self, from: &[T]) -> T {
        let steps = (1..from.len()).map(|n| n as f64 / from.len() as f64);
        let roll = self.between(0.0, 1.0);
        from[steps.filter(|step| roll >= *step).count()]
    }

    /// A round number of hundreds, so that boundaries often coincide.
    fn hundreds(&mut self) -> f64 {
        self.pick(&[0.0, 100.0, 200.0, 300.0, 400.0])
    }
}

fn outline(vertices: &[(f64, f64, f64)]) -> Option<Outline> {
    let next = vertices.iter().cycle().skip(1);
    let edges = vertices.iter().zip(next).map(|(&(x, y, bulge), &(to_x, to_y, _))| {
        let (from, to) = (Point::new(x, y), Point::new(to_x, to_y));
        Arc::from_bulge(from, to, bulge).map_or(Edge::line(from, to), Edge::Arc)
    });
    sound(Outline::new(edges.collect()).ok()?)
}

fn sound(outline: Outline) -> Option<Outline> {
    (!outline.crosses_itself()).then_some(outline)
}

fn any(dice: &mut Dice) -> Option<Outline> {
    let (x, y) = (dice.hundreds(), dice.hundreds());
    let (w, h) = (dice.hundreds() + 100.0, dice.hundreds() + 100.0);
    match dice.pick(&[0, 1, 2, 3]) {
        0 => Outline::rectangle(Rect::new(x, y, x + w, y + h)).ok(),
        1 => {
            let head = dice.pick(&[0.25, 0.5, 1.0, -0.1]);
            outline(&[(x, y, 0.0), (x + w, y, 0.0), (x + w, y + h, head), (x, y + h, 0.0)])
        }
        2 => outline(&[(x - w / 2.0, y, 1.0), (x + w / 2.0, y, 1.0)]),
        _ => {
            let count = dice.pick(&[3, 4, 5, 6, 7, 8, 9]);
            let corners: Vec<(f64, f64, f64)> = (0..count)
                .map(|i| {
                    let step = f64::from(i) + dice.between(-0.3, 0.3);
                    let out =
                        dice.between(60.0, 300.0) * Vec2::from_angle(step * TAU / f64::from(count));
                    let bulge = dice.between(-0.3, 0.6) * dice.pick(&[0.0, 1.0]);
                    (x + out.x, y + out.y, bulge)
                })
                .collect();
            outline(&corners)
        }
    }
}

/// A second outline that has to do with the first.
fn companion(dice: &mut Dice, first: &Outline) -> Option<Outline> {
    match dice.pick(&[0, 1, 2, 3]) {
        0 => {
            let join = dice.pick(&[Join::Sharp, Join::Round]);
            sound(first.offset(dice.pick(&[-40.0, -10.0, 10.0, 40.0]), join).ok()?)
        }
        1 => {
            // A strip across, level with the first at its top.
            let bounds = first.bounds();
            let x = dice.between(bounds.x0, bounds.x1);
            Outline::rectangle(Rect::new(x, bounds.y0 - 5.0, x + 50.0, bounds.y1)).ok()
        }
        2 => {
            // One edge moved: all others coincide.
            let mut by = vec![0.0; first.edges().len()];
            let index = dice.between(0.0, by.len() as f64 - 0.001);
            let slot = by.iter_mut().enumerate().find(|(i, _)| *i as f64 + 1.0 > index);
            *slot.unwrap().1 = 20.0;
            sound(first.offset_each(&by, Join::Sharp).ok()?)
        }
        _ => any(dice),
    }
}

/// A region with or without a hole.
fn region(dice: &mut Dice, outline: Outline, wall: f64) -> Region {
    let hole = outline.offset(-wall, Join::Sharp).ok().and_then(sound);
    match hole {
        Some(hole) if dice.between(0.0, 1.0) < 0.3 => Region { outline, holes: vec![hole] },
        _ => Region::solid(outline),
    }
}

fn area(parts: &[Region]) -> f64 {
    parts.iter().map(Region::area).sum()
}

#[test]
fn areas_add_up_and_points_lie_where_they_should() {
    let wanted: usize =
        std::env::var("FILLISTER_CASES").ok().and_then(|n| n.parse().ok()).unwrap_or(1500);
    let mut dice = Dice(0x0005_eed0_fa11_a5e5);
    let (mut pairs, mut points, mut meeting) = (0, 0, 0);
    while pairs < wanted {
        let Some(a) = any(&mut dice) else { continue };
        let Some(b) = companion(&mut dice, &a) else { continue };
        pairs += 1;
        let (a, b) = (region(&mut dice, a, 15.0), region(&mut dice, b, 25.0));
        let words = format!("{a:?}\n{b:?}");
        let [joined, shared, less, rest] =
            [a.union(&b), a.intersection(&b), a.difference(&b), b.difference(&a)]
                .map(|found| found.unwrap_or_else(|error| panic!("{error}\n{words}")));
        // Slivers left out account for the difference: each is thinner than the least width, and
        // all together are no longer than the boundaries.
        let length: f64 = a.edges().chain(b.edges()).map(Edge::length).sum();
        let slivers = THINNEST * length / 2.0 + SMALLEST;
        let off = [
            a.area() + b.area() - area(&joined) - area(&shared),
            a.area() - area(&shared) - area(&less),
            b.area() - area(&shared) - area(&rest),
        ];
        assert!(off.iter().all(|by| by.abs() < slivers), "{off:?}\n{words}");
        let parts = [&joined, &shared, &less, &rest];
        assert!(
            parts.iter().copied().flatten().all(|part| !part.outline.crosses_itself()),
            "{words}"
        );
        meeting += usize::from(!shared.is_empty());
        let bounds = a.outline.bounds().union(b.outline.bounds());
        for _ in 0..10 {
            let point =
                Point::new(dice.between(bounds.x0, bounds.x1), dice.between(bounds.y0, bounds.y1));
            if a.edges().chain(b.edges()).any(|edge| edge.distance_to(point) < 0.01) {
                continue;
            }
            points += 1;
            let (in_a, in_b) = (a.contains(point), b.contains(point));
            let should = [in_a || in_b, in_a && in_b, in_a && !in_b, in_b && !in_a];
            for (part, should) in parts.iter().zip(should) {
                let found = part.iter().filter(|part| part.contains(point)).count();
                assert_eq!(found, usize::from(should), "{point:?}\n{words}");
            }
        }
    }
    assert!(points > 5 * wanted && meeting > wanted / 2, "{points} points, {meeting} pairs meet");
}
