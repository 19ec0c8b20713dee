//! What hangs above the cutting edges, and what stands in the way: shank and holder against the
//! wood, and the whole tool against clamps and metal.

use super::gouge;
use super::rules::{Name, charge};
use super::walk::Walk;
use crate::finding::{Basis, Quantity};
use crate::geometry::Edge;
use crate::prove::Setup;
use crate::prove::motion::{Move, piece};
use crate::prove::proof::Nearest;
use crate::prove::wood::{Keep, Met};
use kurbo::Point;

/// Most pieces that a ramp is looked at in; beyond, they only grow coarser, on the safe side.
const MOST_PIECES: f64 = 2000.0;

/// A part of the tool: round, from a height above the tip upwards.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Body {
    /// Half its diameter.
    half: f64,
    /// From the tip up to its lower end.
    from: f64,
    /// What it is.
    name: &'static str,
    /// The rule it breaks where it meets wood; none for the cutting edges, which are meant to.
    rule: Option<&'static str>,
}

/// Cutting edges, shank and holder, from the tip up.
pub(super) fn bodies(setup: &Setup) -> Vec<Body> {
    let edges = Body { half: setup.radius(), from: 0.0, name: "cutter", rule: None };
    let shank = Body {
        half: setup.shank_diameter / 2.0,
        from: setup.cutting_length,
        name: "shank",
        rule: Some("prove.reach"),
    };
    let holder = setup.holder.map(|holder| Body {
        half: holder.diameter / 2.0,
        from: holder.stick_out,
        name: "holder",
        rule: Some("prove.holder"),
    });
    [edges, shank].into_iter().chain(holder).collect()
}

impl Walk<'_> {
    /// Shank and holder against the wood as it stands after the move's own cut.
    ///
    /// The holder against wood that must stay is held by exact distances, like the shank (see
    /// [`gouge`]). Wood not yet cut away beside the cutter is asked of the rows.
    pub(super) fn hold_bodies_up(&mut self, mv: &Move, program: Name) {
        let low = mv.low();
        for index in 0..self.bodies.len() {
            let Some(&body) = self.bodies.get(index) else { continue };
            let Some(rule) = body.rule.filter(|_| low + body.from < self.field.top) else {
                continue;
            };
            let found = self.holder_on_keep(mv, body).or_else(|| self.on_uncut(mv, body));
            let Some((short, at, what)) = found else { continue };
            self.field.effort.spend(gouge::STEPS_OF_A_PLACE);
            let (needed, limit) = (Quantity::mm(short + body.from), Quantity::mm(body.from));
            let advice = format!("The {} runs into {what}: use a longer cutter.", body.name);
            let mut charge = charge(rule, program, mv, needed, limit, &advice);
            charge.at = Some([at.x, at.y, low]);
            self.docket.add(charge);
        }
    }

    fn holder_on_keep(&self, mv: &Move, body: Body) -> Option<(f64, Point, String)> {
        if body.rule != Some("prove.holder") {
            return None;
        }
        let around = mv.path.bounds();
        self.keeps.iter().find_map(|keep| {
            let (short, at) =
                gouge::reaches_in(mv, around, keep, body.half, body.from, self.setup)?;
            Some((short, at, keep.solid.name.clone()))
        })
    }

    /// Only what is wider than the cutter meets wood that the cutter left beside it.
    fn on_uncut(&self, mv: &Move, body: Body) -> Option<(f64, Point, String)> {
        let tolerance = self.setup.tolerance;
        if body.half <= self.setup.radius() + tolerance {
            return None;
        }
        let (t0, t1) = mv.below(self.field.top - body.from - tolerance)?;
        let drop = (mv.z_at(t1) - mv.z_at(t0)).abs();
        let upright = mv.is_upright();
        let count = if upright { 1.0 } else { (drop / tolerance).ceil().clamp(1.0, MOST_PIECES) };
        let mut most: Option<Met> = None;
        let mut index = 0.0;
        while index < count {
            let (a, b) = (t0 + (t1 - t0) * index / count, t0 + (t1 - t0) * (index + 1.0) / count);
            let z = mv.z_at(a).min(mv.z_at(b)) + body.from;
            if self.field.effort.is_spent() {
                return None;
            }
            let met = self.field.under(&piece(&mv.path, a, b), body.half + mv.slack, z);
            if met.is_some_and(|met| most.is_none_or(|most| met.height > most.height)) {
                most = met;
            }
            index += 1.0;
        }
        let met = most.filter(|met| met.height > tolerance)?;
        Some((met.height, met.at, "wood that is not yet cut".into()))
    }

    /// Every part of the tool against clamps and metal, on rapid moves too.
    ///
    /// The way to the first place of a program leads from where the one before it ended; the first
    /// program's way there is not known.
    pub(super) fn keep_clear(&mut self, mv: &Move, program: Name) {
        if self.obstacles.is_empty() {
            return;
        }
        let mut mv = *mv;
        if let Some(from) = self.last.filter(|_| mv.arrival) {
            mv.path = Edge::line(from, mv.path.end());
        }
        self.last = Some(mv.path.end());
        // Out of the walk while it writes to its margins and docket.
        let (obstacles, bodies) =
            (std::mem::take(&mut self.obstacles), std::mem::take(&mut self.bodies));
        for obstacle in &obstacles {
            for body in &bodies {
                self.keep_clear_of(obstacle, *body, &mv, program);
            }
        }
        (self.obstacles, self.bodies) = (obstacles, bodies);
    }

    fn keep_clear_of(&mut self, obstacle: &Keep, body: Body, mv: &Move, program: Name) {
        let around = mv.path.bounds();
        let (top, reach) = (obstacle.solid.top, body.half + mv.slack);
        let nearest = |distance| Nearest {
            distance,
            program: program.1.to_string(),
            line: mv.line,
            solid: obstacle.solid.name.clone(),
        };
        let Some((t0, t1)) = mv.below(top - body.from) else {
            let height = mv.low() + body.from - top;
            let best = self.margins.over_obstacle.as_ref().map_or(f64::INFINITY, |n| n.distance);
            if height < best && obstacle.distance(&mv.path, around, reach) < reach {
                self.margins.over_obstacle = Some(nearest(height));
            }
            return;
        };
        let path = piece(&mv.path, t0, t1);
        let best = self.margins.obstacle.as_ref().map_or(f64::INFINITY, |n| n.distance);
        let clearance = obstacle.distance(&path, around, reach + best.max(0.0)) - reach;
        if clearance < best {
            self.margins.obstacle = Some(nearest(clearance));
        }
        if clearance >= 0.0 {
            return;
        }
        let down = top - body.from - mv.z_at(t0).min(mv.z_at(t1));
        let depth = Quantity::mm(down.min(-clearance));
        let advice = format!(
            "The {} runs into the {}: move it, or go round or over it.",
            body.name, obstacle.solid.name
        );
        let mut charge = charge("prove.obstacle", program, mv, depth, Quantity::mm(0.0), &advice);
        let (at, _) = gouge::nearest(&path, obstacle);
        self.field.effort.spend(gouge::STEPS_OF_A_PLACE);
        charge.at = Some([at.x, at.y, mv.low()]);
        charge.basis = Basis::Geometry;
        self.docket.add(charge);
    }
}
