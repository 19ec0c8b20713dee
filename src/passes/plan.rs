//! Which passes, in which order.

use super::layers::{Layer, layers, layers_from_face, slot_depth};
use super::layout::{Around, CutBar, Layout};
use super::pass::{Cut, Pass, Plan, Ring, Stage, Strip, TimberLeft};
use super::uncut::UpTo;
use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict, down_to_tenth, up_to_tenth};
use crate::fit::{Fit, UnitFit};
use crate::geometry::{COINCIDENT, PerSide, ShapeError};
use crate::language::text;
use crate::rebate::{Corner, Pocket, Rebate};
use crate::sash::Sash;
use crate::survey::{OldGlazing, Workshop};
use kurbo::Point;
use std::f64::consts::SQRT_2;

/// Plans every pass from the old rebate to the new.
///
/// # Errors
/// As [`Layout::new`]. What cannot be cut with this cutter is a finding.
pub fn plan(
    sash: &Sash,
    fit: &Fit,
    rebate: &Rebate,
    workshop: &Workshop,
) -> Result<Plan, ShapeError> {
    let layout = Layout::new(sash, &fit.units, &rebate.go, workshop)?;
    Ok(plan_laid_out(&layout, fit, &rebate.pockets, workshop))
}

/// Plans every pass by a layout that is known.
pub fn plan_laid_out(layout: &Layout, fit: &Fit, pockets: &[Pocket], workshop: &Workshop) -> Plan {
    let planner = Planner { layout, fit, pockets, workshop };
    let mut passes = planner.score();
    passes.extend(planner.lower_bars());
    passes.extend(planner.widen());
    passes.extend(planner.deepen());
    passes.extend(planner.finish());
    passes.extend(planner.clean_corners());
    passes.extend(planner.corners());
    Plan { passes, findings: judge(fit.depth, workshop) }
}

struct Planner<'a> {
    layout: &'a Layout,
    fit: &'a Fit,
    pockets: &'a [Pocket],
    workshop: &'a Workshop,
}

/// A unit, its place in the list, and what is round it.
type Round<'a> = (usize, &'a UnitFit, &'a Around);

impl Planner<'_> {
    fn units(&self) -> impl Iterator<Item = Round<'_>> {
        let units = self.fit.units.iter().zip(&self.layout.units).enumerate();
        units.map(|(index, (unit, around))| (index, unit, around))
    }

    fn score(&self) -> Vec<Pass> {
        let depth = self.workshop.cutting.score_depth.min(self.fit.depth);
        if depth <= COINCIDENT {
            return Vec::new();
        }
        let slot = slot_depth(self.workshop);
        let passes = self.rings(Stage::Score, |_| layers(0.0, depth, slot), 0.0);
        // One slot along the wall is enough.
        narrowed(passes, self.workshop.cutter.diameter)
    }

    /// Bars in front of one unit: their webs down to their old platforms.
    fn lower_bars(&self) -> Vec<Pass> {
        let step = self.workshop.cutting.step_depth;
        let mut passes = Vec::new();
        for cut in &self.layout.bars {
            let bar = &cut.bar.measured;
            for layer in layers(0.0, bar.rebate_depth.min(self.fit.depth), step) {
                passes.push(self.strip(Stage::LowerBars, cut, bar.web(), layer));
            }
        }
        passes
    }

    fn widen(&self) -> Vec<Pass> {
        let cutting = &self.workshop.cutting;
        let (shallow, step) = (cutting.widen_step, cutting.deepest_step());
        let layers = |around: &Around| layers_from_face(self.widen_depth(around), shallow, step);
        self.rings(Stage::Widen, layers, self.allowance())
    }

    /// First bars whose platform lies higher than the frame's, down to that. Then layer by layer all
    /// round, and along the bars. Either way the ring has opened both ends of a bar before its whole
    /// width is cut: no scallop of an earlier strip and no lip of a groove stands there any more. And
    /// either way all bars go down together: where two cross, neither meets more than a layer of the
    /// other.
    fn deepen(&self) -> Vec<Pass> {
        let step = self.workshop.cutting.step_depth;
        let mut passes = Vec::new();
        for round in self.units() {
            let frame = self.widen_depth(round.2);
            let platforms = self.layout.bars.iter().map(|cut| cut.bar.measured.rebate_depth);
            let highest = platforms.fold(frame, f64::min);
            for layer in layers(highest, frame, step) {
                passes.extend(self.whole_bars(layer));
            }
            for layer in layers(frame, self.fit.depth, step) {
                passes.push(ring(Stage::Deepen, round, layer, self.allowance()));
                passes.extend(self.whole_bars(layer));
            }
        }
        passes
    }

    /// Strips over the whole width of every bar that has wood in the layer.
    fn whole_bars(&self, layer: Layer) -> impl Iterator<Item = Pass> {
        let reached = move |cut: &&CutBar| layer.to > cut.bar.measured.rebate_depth + COINCIDENT;
        let bars = self.layout.bars.iter().filter(reached);
        bars.map(move |cut| self.strip(Stage::Deepen, cut, cut.bar.measured.width, layer))
    }

    /// One shaving off the walls, over their whole height where it is thin enough for that.
    fn finish(&self) -> Vec<Pass> {
        if self.allowance() <= COINCIDENT {
            return Vec::new();
        }
        // As much wood a minute as a slot of one step at most; half of that for the corners' sake.
        let (cutter, cutting) = (&self.workshop.cutter, &self.workshop.cutting);
        let most = cutter.diameter * cutting.step_depth / (2.0 * cutting.finish_allowance);
        // In a corner sharper than a square one more than the rim takes it, and then a step is a step.
        let most = |around: &Around| if around.sharp { cutting.step_depth.min(most) } else { most };
        let layers = |around: &Around| layers(0.0, self.fit.depth, most(around));
        narrowed(self.rings(Stage::Finish, layers, 0.0), self.allowance())
    }

    /// The corners that a thinner cutter goes into.
    fn clean_corners(&self) -> Vec<Pass> {
        let whole = Layer { from: 0.0, to: self.fit.depth };
        let clean = self.units().zip(self.pockets).filter_map(|(round, pocket)| {
            let cleaned = |corner: &Corner| Some((corner.at, corner.cleaned?));
            let cleaned: Vec<(Point, f64)> = pocket.corners.iter().filter_map(cleaned).collect();
            let to = cleaned.first()?.1;
            let pass = ring(Stage::CleanCorners, round, whole, 0.0);
            let Cut::Ring(ring) = pass.cut else { return None };
            let (at, from) =
                (places(cleaned.iter().map(|(at, _)| *at)), self.workshop.cutter.radius());
            Some(Pass { cut: Cut::Clean { ring, at, from, to }, ..pass })
        });
        clean.collect()
    }

    fn corners(&self) -> Vec<Pass> {
        let mut passes = Vec::new();
        for ((unit, _, around), pocket) in self.units().zip(self.pockets) {
            let chiselled: Vec<&Corner> = pocket.corners.iter().filter(|c| c.chisel).collect();
            // Like with like: those that a thinner cutter went into are smaller.
            for corners in chiselled.chunk_by(|a, b| a.cleaned == b.cleaned) {
                let at = places(corners.iter().map(|corner| corner.at));
                let thinner = corners.first().and_then(|corner| corner.cleaned);
                let radius = thinner.unwrap_or(self.workshop.cutter.radius());
                passes.push(Pass {
                    stage: Stage::Corners,
                    place: pocket.light.clone(),
                    cut: Cut::Corners { unit, at, radius },
                    from_depth: 0.0,
                    to_depth: self.fit.depth,
                    left: ring_left(around, UpTo::New, self.fit.depth),
                });
            }
        }
        passes
    }

    /// Wood kept on the walls for the finishing cut; never more than there is to widen.
    fn allowance(&self) -> f64 {
        self.workshop.cutting.finish_allowance
    }

    /// Down to the shallowest old platform round the unit, at most to the new one.
    fn widen_depth(&self, around: &Around) -> f64 {
        around.uncut.shallowest(self.fit.depth)
    }

    fn rings(
        &self,
        stage: Stage,
        layers: impl Fn(&Around) -> Vec<Layer>,
        allowance: f64,
    ) -> Vec<Pass> {
        let rings = self.units().flat_map(|round| {
            let all = layers(round.2).into_iter();
            all.map(move |layer| ring(stage, round, layer, allowance))
        });
        rings.filter(|pass| takes_wood(pass) || !self.layout.bars.is_empty()).collect()
    }

    fn strip(&self, stage: Stage, cut: &CutBar, width: f64, layer: Layer) -> Pass {
        // The rim reaches as far as the ring does, and in the old rebate no further than its walls.
        let (old, first) = (&self.layout.old_walls, self.layout.units.first());
        let reach = match first.filter(|_| stage != Stage::LowerBars) {
            Some(around) => around.rough.outline(),
            None => old,
        };
        Pass {
            stage,
            place: cut.bar.name(),
            cut: Cut::Strip(Strip { bar: cut.bar.clone(), width, reach: reach.clone() }),
            from_depth: layer.from,
            to_depth: layer.to,
            left: TimberLeft { under: cut.under(layer.to), beside: None },
        }
    }
}

/// All round a unit, up to the rough wall where something is kept for the finishing cut.
fn ring(stage: Stage, (index, unit, around): Round<'_>, layer: Layer, allowance: f64) -> Pass {
    let (up_to, wall) = if allowance > 0.0 {
        (UpTo::Rough, &around.rough)
    } else {
        (UpTo::New, &unit.outlines.wall)
    };
    let to = around.sides.map(|side| side.widths(up_to));
    let open = |side| open_at(around.sides.get(side).old, layer);
    let from = PerSide::from_fn(|side| to.get(side).map(|to| to.min(open(side))));
    Pass {
        stage,
        place: unit.light.clone(),
        cut: Cut::Ring(Ring {
            unit: index,
            sight: unit.outlines.sight.clone(),
            wall: wall.clone(),
            from,
            to,
            widest: around.uncut.widest(up_to, layer),
        }),
        from_depth: layer.from,
        to_depth: layer.to,
        left: ring_left(around, up_to, layer.to),
    }
}

/// Least wood round a unit once its rebate goes up to that wall and is `depth` deep.
fn ring_left(around: &Around, up_to: UpTo, depth: f64) -> TimberLeft {
    let mut left = TimberLeft { under: f64::INFINITY, beside: None };
    for (_, side) in around.sides.iter() {
        left.under = left.under.min(side.under(up_to, depth));
        if let Some(beside) = side.beside(up_to, depth) {
            left.beside = Some(left.beside.map_or(beside, |least: f64| least.min(beside)));
        }
    }
    left
}

/// The same rings, each with no more than `width` mm along the walls.
fn narrowed(mut passes: Vec<Pass>, width: f64) -> Vec<Pass> {
    for pass in &mut passes {
        if let Cut::Ring(ring) = &mut pass.cut {
            ring.narrow(width);
        }
    }
    passes
}

fn places(at: impl Iterator<Item = Point>) -> Vec<[f64; 2]> {
    at.map(|at| [at.x, at.y]).collect()
}

/// Sight edge to the first wood within the layer, beside an old rebate or groove.
fn open_at(old: OldGlazing, layer: Layer) -> f64 {
    match old {
        OldGlazing::Rebate { width, depth } if layer.to <= depth + COINCIDENT => width,
        OldGlazing::Groove { from_face, width, depth }
            if layer.from >= from_face - COINCIDENT
                && layer.to <= from_face + width + COINCIDENT =>
        {
            depth
        }
        _ => 0.0,
    }
}

/// Judges the cutter against a rebate of `depth` mm.
pub fn judge(depth: f64, workshop: &Workshop) -> Vec<Finding> {
    let cutter = &workshop.cutter;
    let mut reach = Finding::at_least(
        "passes.cutter-length",
        "cutter",
        Quantity::mm(cutter.cutting_length),
        Bounds::stop(Bound::geometry(depth)),
        |verdict, _| match verdict {
            Verdict::Clear => text!("cut-reaches"),
            _ => text!("cut-longer-edges", least = format!("{:.1}", up_to_tenth(depth))),
        },
    );
    // A slim shank clears the wall, and only the length in the collet counts.
    if cutter.is_slim(workshop.cutting.tolerance) {
        (reach.verdict, reach.advice) = (Verdict::Clear, text!("cut-reaches"));
    }
    let mut findings = vec![reach];
    let deepest = workshop.cutting.deepest_step();
    findings.push(Finding::at_most(
        "passes.step-depth",
        "cutter",
        Quantity::mm(deepest),
        Bounds::caution(Bound::common_practice(cutter.radius())),
        |verdict, _| match verdict {
            Verdict::Clear => text!("cut-steps-fine"),
            _ => text!("cut-shallower-steps"),
        },
    ));
    findings.push(finishing_cut(workshop));
    findings
}

/// `passes.finish`: a finishing cut is not held to the step depth, because only the rim of the
/// cutter takes it. In an inside corner it is √2 as wide, and must still not reach the axis.
fn finishing_cut(workshop: &Workshop) -> Finding {
    let (cutter, cutting) = (&workshop.cutter, &workshop.cutting);
    let widest = (cutter.radius() - cutting.tolerance) / SQRT_2;
    // The bound itself leaves the rim no width at all.
    let measured = Quantity::mm(cutting.finish_allowance + COINCIDENT);
    Finding::at_most(
        "passes.finish",
        "cutter",
        measured,
        Bounds::stop(Bound::geometry(widest)),
        |verdict, bound| match verdict {
            Verdict::Clear => text!("cut-finish-fine"),
            _ => text!(
                "cut-finish",
                most = format!("{:.1}", down_to_tenth(bound - 2.0 * COINCIDENT))
            ),
        },
    )
}

/// Whether a ring has anything to cut on any side. Where bars are housed in the frame their ends want
/// the ring all the same.
fn takes_wood(pass: &Pass) -> bool {
    match &pass.cut {
        Cut::Ring(ring) => ring.widest > COINCIDENT,
        _ => true,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::MinMax;
    use crate::sash::tests::casement;
    use crate::{fit, rebate, survey};

    fn planned(survey: &survey::Sash) -> Plan {
        let workshop = Workshop::default();
        let sash = Sash::new(survey).unwrap();
        let fit = fit::fit(&sash, &workshop).unwrap();
        let rebate = rebate::divide(&sash, &fit, workshop.cutter.radius()).unwrap();
        plan(&sash, &fit, &rebate, &workshop).unwrap()
    }

    #[test]
    fn stages_follow_in_order_and_reach_the_platform() {
        let plan = planned(&casement());
        let stages: Vec<Stage> = plan.passes.iter().map(|pass| pass.stage).collect();
        assert!(stages.windows(2).all(|pair| pair[0] <= pair[1]));
        for stage in [Stage::Score, Stage::LowerBars, Stage::Widen, Stage::Deepen, Stage::Finish] {
            assert!(stages.contains(&stage), "{stage}");
        }
        let deepest = plan.passes.iter().map(|pass| pass.to_depth).fold(0.0, f64::max);
        assert_eq!(deepest, 27.0);
        // With 2 mm at the sides and a 12 mm cutter every corner clears the fillet.
        assert!(!stages.contains(&Stage::Corners));
    }

    // By hand: 45 thick, ovolo 8 deep, platform at 17 then 27; stile 52 wide, wall at 14.
    #[test]
    fn each_pass_says_what_is_left() {
        let plan = planned(&casement());
        let last = |stage| plan.passes.iter().rfind(|pass| pass.stage == stage).unwrap().left;
        assert_eq!(last(Stage::Widen), TimberLeft { under: 20.0, beside: Some(52.0 - 13.5) });
        assert_eq!(last(Stage::Finish), TimberLeft { under: 10.0, beside: Some(38.0) });
        assert_eq!(last(Stage::LowerBars), TimberLeft { under: 20.0, beside: None });
    }

    // Half of 4 less the tolerance of 0.05, over √2: 1.379.
    #[test]
    fn a_finishing_cut_too_wide_for_the_rim_is_a_stop() {
        let survey = casement();
        let mut workshop = Workshop::default();
        workshop.cutter.diameter = 4.0;
        for (allowance, verdict) in [(1.37, Verdict::Clear), (1.38, Verdict::Stop)] {
            workshop.cutting.finish_allowance = allowance;
            let sash = Sash::new(&survey).unwrap();
            let fit = fit::fit(&sash, &workshop).unwrap();
            let rebate = rebate::divide(&sash, &fit, 2.0).unwrap();
            let plan = plan(&sash, &fit, &rebate, &workshop).unwrap();
            let finding = plan.findings.iter().find(|f| f.rule == "passes.finish").unwrap();
            assert_eq!(finding.verdict, verdict);
        }
    }

    // Bed, unit, bead and what a unit may come over may add up to a last digit more than they are.
    #[test]
    fn edges_as_long_as_the_rebate_is_deep_reach() {
        let mut workshop = Workshop::default();
        workshop.cutter.cutting_length = 27.0;
        for (depth, verdict) in [(27.0_f64.next_up(), Verdict::Clear), (27.1, Verdict::Stop)] {
            assert_eq!(judge(depth, &workshop)[0].verdict, verdict);
        }
    }

    #[test]
    fn a_groove_is_open_only_between_its_lips() {
        let mut survey = casement();
        survey.members.top.old = OldGlazing::Groove { from_face: 10.0, width: 5.0, depth: 8.0 };
        let plan = planned(&survey);
        let first = plan.passes.iter().find(|pass| pass.stage == Stage::Widen).unwrap();
        let Cut::Ring(ring) = &first.cut else { panic!("widening goes all round") };
        assert_eq!((ring.from.top, ring.from.left), (MinMax::even(0.0), MinMax::even(9.0)));
    }
}
