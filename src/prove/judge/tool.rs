//! What hangs above the cutting edges, and what stands in the way: shank and holder against the
//! wood, and the whole tool against clamps and metal.

use super::aside::{FURTHEST, Low, aside};
use super::gouge::{self, ToolPart};
use super::rules::{Name, fault_of};
use super::simulation::Simulation;
use crate::finding::{Basis, Quantity};
use crate::geometry::Edge;
use crate::language::{Text, text};
use crate::prove::motion::{Move, piece};
use crate::prove::proof::Nearest;
use crate::prove::tolerance::MOST_TOOL_PIECES;
use crate::prove::wood::{PreparedSolid, Tallest};
use kurbo::Point;

impl Simulation<'_> {
    /// Shank and holder against the wood as it stands after the move's own cut.
    ///
    /// The holder against wood that must stay is held by exact distances, like the shank (see
    /// [`gouge`]). Wood not yet cut away beside the cutter is asked of the rows.
    pub(super) fn check_tool_against_wood(&mut self, mv: &Move, program: Name) {
        let low = mv.low();
        for index in 0..self.tool_parts.len() {
            let Some(&part) = self.tool_parts.get(index) else { continue };
            let Some(rule) = part.rule.filter(|_| low + part.above_tip < self.field.top) else {
                continue;
            };
            let found =
                self.holder_in_staying_wood(mv, part).or_else(|| self.in_uncut_wood(mv, part));
            let Some((short, at, what)) = found else { continue };
            self.field.effort.spend(gouge::STEPS_OF_A_PLACE);
            let (needed, limit) =
                (Quantity::mm(short + part.above_tip), Quantity::mm(part.above_tip));
            let advice = text!("prove-tool-in-wood", part = Text::of(part.name), what);
            let mut fault = fault_of(rule, program, mv, needed, limit, advice);
            fault.at = Some([at.x, at.y, low]);
            self.faults.add(fault);
        }
    }

    fn holder_in_staying_wood(&self, mv: &Move, part: ToolPart) -> Option<(f64, Point, Text)> {
        if part.rule != Some("prove.holder") {
            return None;
        }
        let around = mv.path.bounds();
        self.staying.iter().find_map(|solid| {
            let (short, at) =
                gouge::reaches_in(mv, around, solid, part.radius, part.above_tip, self.setup)?;
            Some((short, at, solid.solid.name.clone()))
        })
    }

    /// Only what is wider than the cutter meets wood that the cutter left beside it.
    fn in_uncut_wood(&self, mv: &Move, part: ToolPart) -> Option<(f64, Point, Text)> {
        let tolerance = self.setup.tolerance;
        if part.radius <= self.setup.radius() + tolerance {
            return None;
        }
        let (t0, t1) = mv.below(self.field.top - part.above_tip - tolerance)?;
        let drop = (mv.z_at(t1) - mv.z_at(t0)).abs();
        let upright = mv.is_upright();
        let count =
            if upright { 1.0 } else { (drop / tolerance).ceil().clamp(1.0, MOST_TOOL_PIECES) };
        let mut most: Option<Tallest> = None;
        let mut index = 0.0;
        while index < count {
            let (a, b) = (t0 + (t1 - t0) * index / count, t0 + (t1 - t0) * (index + 1.0) / count);
            let z = mv.z_at(a).min(mv.z_at(b)) + part.above_tip;
            if self.field.effort.is_spent() {
                return None;
            }
            let met = self.field.under(&piece(&mv.path, a, b), part.radius + mv.slack, z);
            if met.is_some_and(|met| most.is_none_or(|most| met.height > most.height)) {
                most = met;
            }
            index += 1.0;
        }
        let met = most.filter(|met| met.height > tolerance)?;
        Some((met.height, met.at, text!("prove-uncut")))
    }

    /// Every part of the tool against clamps and metal, on rapid moves too.
    ///
    /// The way to the first place of a program leads from where the one before it ended; the first
    /// program's way there is not known.
    pub(super) fn check_obstacles(&mut self, mv: &Move, program: Name) {
        if self.obstacles.is_empty() {
            return;
        }
        let mut mv = *mv;
        if let Some(from) = self.last.filter(|_| mv.arrival) {
            mv.path = Edge::line(from, mv.path.end());
        }
        self.last = Some(mv.path.end());
        // Out of the simulation while it writes to its margins and faults.
        let (obstacles, tool_parts) =
            (std::mem::take(&mut self.obstacles), std::mem::take(&mut self.tool_parts));
        for obstacle in obstacles.iter().enumerate() {
            for part in &tool_parts {
                self.check_obstacle(obstacle, *part, &mv, program);
            }
        }
        (self.obstacles, self.tool_parts) = (obstacles, tool_parts);
    }

    fn check_obstacle(
        &mut self,
        (index, obstacle): (usize, &PreparedSolid),
        part: ToolPart,
        mv: &Move,
        program: Name,
    ) {
        let around = mv.path.bounds();
        let anywhere = mv.anywhere_in();
        let distance = |path: &Edge, cutoff: f64| match anywhere {
            Some(rect) => obstacle.distance_to_rect(rect, cutoff),
            None => obstacle.distance(path, around, cutoff),
        };
        let (top, reach) = (obstacle.solid.top, part.radius + mv.slack);
        let nearest = |distance| Nearest {
            distance,
            program: program.1.to_string(),
            line: mv.line,
            solid: obstacle.solid.name.clone(),
        };
        // Where it is on its way when it is how high is not known either.
        let below = mv.below(top - part.above_tip);
        let below = if anywhere.is_some() { below.map(|_| (0.0, 1.0)) } else { below };
        let Some((t0, t1)) = below else {
            let height = mv.low() + part.above_tip - top;
            let best = self.margins.over_obstacle.as_ref().map_or(f64::INFINITY, |n| n.distance);
            if height < best && distance(&mv.path, reach) < reach {
                self.margins.over_obstacle = Some(nearest(height));
            }
            return;
        };
        let path = piece(&mv.path, t0, t1);
        let near = obstacle.may_be_within(FURTHEST + reach, path.bounds());
        if index < self.setup.clamps && near {
            self.low.push((index, Low { path, anywhere, reach }));
        }
        let best = self.margins.obstacle.as_ref().map_or(f64::INFINITY, |n| n.distance);
        let clearance = distance(&path, reach + best.max(0.0)) - reach;
        if clearance < best {
            self.margins.obstacle = Some(nearest(clearance));
        }
        if clearance >= 0.0 {
            return;
        }
        let down = top - part.above_tip - mv.z_at(t0).min(mv.z_at(t1));
        let depth = Quantity::mm(down.min(-clearance));
        let (part, what) = (Text::of(part.name), &obstacle.solid.name);
        let advice = if anywhere.is_some() {
            text!("prove-may-run", part, what)
        } else {
            text!("prove-runs", part, what)
        };
        let mut fault = fault_of("prove.obstacle", program, mv, depth, Quantity::mm(0.0), advice);
        let (at, _) = gouge::nearest(&path, obstacle);
        self.field.effort.spend(gouge::STEPS_OF_A_PLACE);
        fault.at = Some([at.x, at.y, mv.low()]);
        fault.basis = Basis::Geometry;
        fault.kind = index + 1;
        self.faults.add(fault);
    }

    /// Adds to what is said of clamps in the way where they would be out of it.
    pub(super) fn tell_aside(&mut self) {
        for (index, clamp) in self.obstacles.iter().enumerate().take(self.setup.clamps) {
            let of_it = self.low.iter().filter(|(of, _)| *of == index);
            let low: Vec<Low> = of_it.map(|(_, low)| *low).collect();
            self.faults.add_words("prove.obstacle", index + 1, || aside(clamp, &low));
        }
    }
}
