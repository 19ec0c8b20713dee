//! Where a clamp that the tool runs into would be out of the way of every program.

use crate::geometry::Edge;
use crate::language::{Text, text};
use crate::prove::wood::PreparedSolid;
use kurbo::{Rect, Vec2};

/// How far from where it is a place is looked for, mm.
pub(super) const FURTHEST: f64 = 100.0;

/// Steps in which it is moved at the least, mm: a place is told in whole ones.
const STEP: f64 = 0.25;

/// A stretch of a move that is low enough for a part of the tool to meet it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Low {
    pub path: Edge,
    /// Where the axis may be anywhere in this instead.
    pub anywhere: Option<Rect>,
    /// How far from the axis the part reaches.
    pub reach: f64,
}

impl Low {
    /// How far the part reaches into the clamp once that is moved by `by`, mm; nothing where it is clear.
    fn meets(&self, clamp: &PreparedSolid, by: Vec2) -> f64 {
        // As far the other way, the clamp staying.
        let distance = match self.anywhere {
            Some(rect) => clamp.distance_to_rect(rect - by, self.reach),
            None => clamp.distance(&self.path.moved(-by), self.path.bounds() - by, self.reach),
        };
        self.reach - distance
    }
}

/// What moves a clamp out of the way: in words, with the fewest whole mm along one of the axes.
pub(super) fn aside(clamp: &PreparedSolid, low: &[Low]) -> Text {
    let ways = [
        (Vec2::new(-1.0, 0.0), "aside-left"),
        (Vec2::new(1.0, 0.0), "aside-right"),
        (Vec2::new(0.0, -1.0), "aside-down"),
        (Vec2::new(0.0, 1.0), "aside-up"),
    ];
    let found =
        ways.into_iter().filter_map(|(way, key)| Some((clear_after(clamp, low, way)?, key)));
    match found.min_by(|a, b| a.0.total_cmp(&b.0)) {
        Some((by, key)) => text!(key, by = format!("{by:.0}")),
        None => text!("aside-nowhere", within = format!("{FURTHEST:.0}")),
    }
}

/// The fewest whole mm in that direction after which nothing meets the clamp.
fn clear_after(clamp: &PreparedSolid, low: &[Low], way: Vec2) -> Option<f64> {
    let deepest = |by: f64| low.iter().map(|low| low.meets(clamp, by * way)).fold(0.0, f64::max);
    let mut by = 0.0;
    while by <= FURTHEST {
        let whole = by.ceil();
        match deepest(by) {
            // What it still meets is as far as it has to go on at the least.
            met if met > 0.0 => by += met.max(STEP),
            _ if deepest(whole) <= 0.0 => return Some(whole),
            _ => by = whole + STEP,
        }
    }
    None
}
