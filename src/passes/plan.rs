//! Which passes, in which order.

use super::layers::{Layer, layers};
use super::pass::{Bite, Pass, Plan, Ring, Stage, Strip, TimberLeft};
use super::standing::{Standing, UpTo};
use crate::finding::{Basis, Bound, Bounds, Finding, Quantity, Verdict};
use crate::fit::{Fit, UnitFit};
use crate::geometry::{Join, Outline, PerSide, SAME, ShapeError, Side};
use crate::rebate::Rebate;
use crate::sash::{Part, PlacedBar, Sash};
use crate::survey::{Bar, BarsAs, OldGlazing, Workshop};
use std::f64::consts::{FRAC_PI_2, SQRT_2};

/// A corner counts as square within this many radians: the tolerance of the proof covers it.
const SHARP: f64 = 0.01;

/// Plans every pass from the old rebate to the new.
///
/// # Errors
/// Where no wall is left once the finishing allowance is taken off; none for rectangles. What cannot be
/// cut with this cutter is a finding.
pub fn plan(
    sash: &Sash,
    fit: &Fit,
    rebate: &Rebate,
    workshop: &Workshop,
) -> Result<Plan, ShapeError> {
    let allowance = workshop.cutting.finish_allowance;
    let rough = |unit: &UnitFit| unit.outlines.wall.outline().offset(-allowance, Join::Sharp);
    let rough = fit.units.iter().map(rough).collect::<Result<Vec<_>, _>>()?;
    let old = sash.measured.members.map(|member| member.old.width());
    // Where sides go on smoothly into each other, the nearer wall is nowhere run over.
    let nearer = sash.outline.evened(&old.map(|width| -width)).map(|width| -width);
    let old_walls = sash.outline.grow(&nearer)?;
    let old_walls = within_new(old_walls.outline(), !sash.outline.is_rectangle(), fit)?;
    let cut_down: &[PlacedBar] =
        if sash.measured.bars_as == BarsAs::OneUnit { &sash.bars } else { &[] };
    let walls = fit.units.iter().map(|unit| unit.outlines.wall.outline()).zip(&rough);
    let standing = walls.map(|(new, rough)| Standing::new(&rebate.go, [new, rough], cut_down));
    let standing = standing.collect();
    let planner = Planner { sash, fit, rebate, workshop, rough, old_walls, standing };
    let mut passes = planner.score();
    passes.extend(planner.lower_bars());
    passes.extend(planner.widen());
    passes.extend(planner.deepen());
    passes.extend(planner.finish());
    passes.extend(planner.corners());
    Ok(Plan { passes, findings: planner.findings() })
}

/// The old walls as far as the new ones leave them open: behind a sash out of square an old rebate may
/// reach further in places, and the wood of bars that are housed there stays.
fn within_new(old: &Outline, crooked: bool, fit: &Fit) -> Result<Outline, ShapeError> {
    let new = fit.units.first().map(|unit| &unit.outlines.wall);
    let Some(new) = new.filter(|_| fit.units.len() == 1 && crooked) else {
        return Ok(old.clone());
    };
    let shared = old.shared(new.outline())?.into_iter();
    let largest = shared.max_by(|a, b| a.area().total_cmp(&b.area()));
    Ok(largest.map_or_else(|| old.clone(), |region| region.outline))
}

struct Planner<'a> {
    sash: &'a Sash,
    fit: &'a Fit,
    rebate: &'a Rebate,
    workshop: &'a Workshop,
    /// The wall of each unit less the wood kept for the finishing cut.
    rough: Vec<Outline>,
    /// The old walls round the whole daylight.
    old_walls: Outline,
    /// The wood round each unit.
    standing: Vec<Standing<'a>>,
}

impl Planner<'_> {
    fn score(&self) -> Vec<Pass> {
        let depth = self.workshop.cutting.score_depth.min(self.fit.depth);
        if depth <= SAME {
            return Vec::new();
        }
        let layer = Layer { from: 0.0, to: depth };
        let mut passes = self.rings(Stage::Score, |_| vec![layer], 0.0);
        // One slot along the wall is enough.
        for pass in &mut passes {
            if let Bite::Ring(ring) = &mut pass.bite {
                ring.narrow(self.workshop.cutter.diameter);
            }
        }
        passes
    }

    /// Bars in front of one unit: their webs down to their old platforms.
    fn lower_bars(&self) -> Vec<Pass> {
        let step = self.workshop.cutting.step_depth;
        let mut passes = Vec::new();
        for (index, bar) in self.cut_bars() {
            for layer in layers(0.0, bar.rebate_depth.min(self.fit.depth), step) {
                passes.push(self.strip(Stage::LowerBars, index, bar, bar.web(), layer));
            }
        }
        passes
    }

    fn widen(&self) -> Vec<Pass> {
        let step = self.workshop.cutting.widen_step;
        self.rings(
            Stage::Widen,
            |index| layers(0.0, self.widen_depth(index), step),
            self.allowance(),
        )
    }

    /// First bars whose platform lies higher than the frame's, down to that. Then layer by layer all
    /// round, and along the bars. Either way the ring has opened both ends of a bar before its whole
    /// width is cut: no scallop of an earlier strip and no lip of a groove stands there any more. And
    /// either way all bars go down together: where two cross, neither meets more than a layer of the
    /// other.
    fn deepen(&self) -> Vec<Pass> {
        let step = self.workshop.cutting.step_depth;
        let mut passes = Vec::new();
        for (index, unit) in self.fit.units.iter().enumerate() {
            let frame = self.widen_depth(index);
            let highest = self.cut_bars().map(|(_, bar)| bar.rebate_depth).fold(frame, f64::min);
            for layer in layers(highest, frame, step) {
                passes.extend(self.whole_bars(layer));
            }
            for layer in layers(frame, self.fit.depth, step) {
                passes.push(self.ring(Stage::Deepen, index, unit, layer, self.allowance()));
                passes.extend(self.whole_bars(layer));
            }
        }
        passes
    }

    /// Strips over the whole width of every bar that has wood in the layer.
    fn whole_bars(&self, layer: Layer) -> impl Iterator<Item = Pass> {
        let reached = move |bar: &Bar| layer.to > bar.rebate_depth + SAME;
        let bars = self.cut_bars().filter(move |(_, bar)| reached(bar));
        bars.map(move |(index, bar)| self.strip(Stage::Deepen, index, bar, bar.width, layer))
    }

    /// One shaving off the walls, over their whole height where it is thin enough for that.
    fn finish(&self) -> Vec<Pass> {
        if self.allowance() <= SAME {
            return Vec::new();
        }
        // As much wood a minute as a slot of one step at most; half of that for the corners' sake.
        let (cutter, cutting) = (&self.workshop.cutter, &self.workshop.cutting);
        let most = cutter.diameter * cutting.step_depth / (2.0 * cutting.finish_allowance);
        // In a corner sharper than a square one more than the rim takes it, and then a step is a step.
        // Between arcs the cutter's own way has sharper corners than the wall.
        let inwards = cutter.radius() + self.allowance();
        let most = |unit: &UnitFit| {
            let wall = unit.outlines.wall.outline();
            let before = wall.offset(-inwards, Join::Round);
            let sharpest = before.map_or(0.0, |way| way.sharpest_corner());
            let sharp = sharpest.min(wall.sharpest_corner()) < FRAC_PI_2 - SHARP;
            if sharp { cutting.step_depth.min(most) } else { most }
        };
        let most: Vec<f64> = self.fit.units.iter().map(most).collect();
        let layers = |index: usize| most.get(index).map(|&most| layers(0.0, self.fit.depth, most));
        let layers = |index: usize| layers(index).unwrap_or_default();
        let mut passes = self.rings(Stage::Finish, layers, 0.0);
        for pass in &mut passes {
            if let Bite::Ring(ring) = &mut pass.bite {
                ring.narrow(self.allowance());
            }
        }
        passes
    }

    fn corners(&self) -> Vec<Pass> {
        let pockets = self.rebate.pockets.iter().zip(&self.fit.units).enumerate();
        pockets
            .filter_map(|(unit, (pocket, fitted))| {
                let at: Vec<_> =
                    pocket.corners.iter().filter(|c| c.chisel).map(|c| [c.at.x, c.at.y]).collect();
                (!at.is_empty()).then(|| Pass {
                    stage: Stage::Corners,
                    place: pocket.light.clone(),
                    bite: Bite::Corners { unit, at, radius: self.workshop.cutter.radius() },
                    from_depth: 0.0,
                    to_depth: self.fit.depth,
                    left: self.ring_left(fitted, fitted.rebate_width, self.fit.depth),
                })
            })
            .collect()
    }

    /// Wood kept on the walls for the finishing cut; never more than there is to widen.
    fn allowance(&self) -> f64 {
        self.workshop.cutting.finish_allowance
    }

    /// Bars that are cut down: only those in front of one unit.
    fn cut_bars(&self) -> impl Iterator<Item = (usize, &Bar)> {
        let cut = self.sash.measured.bars_as == BarsAs::OneUnit;
        self.sash.measured.bars.iter().enumerate().filter(move |_| cut)
    }

    /// Down to the shallowest old platform round the unit, at most to the new one.
    fn widen_depth(&self, unit: usize) -> f64 {
        let depth = self.fit.depth;
        self.standing.get(unit).map_or(depth, |standing| standing.shallowest(depth))
    }

    /// The old glazing beside a unit: the frame's, or that of the bar there.
    fn old(&self, unit: &UnitFit, side: Side) -> OldGlazing {
        self.sash.beside(&unit.outlines.sight, side).1
    }

    fn rings(
        &self,
        stage: Stage,
        layers: impl Fn(usize) -> Vec<Layer>,
        allowance: f64,
    ) -> Vec<Pass> {
        let units = self.fit.units.iter().enumerate();
        units
            .flat_map(|(index, unit)| {
                let all = layers(index).into_iter();
                all.map(|layer| self.ring(stage, index, unit, layer, allowance))
                    .filter(|pass| takes_wood(pass) || self.cut_bars().next().is_some())
                    .collect::<Vec<_>>()
            })
            .collect()
    }

    fn ring(
        &self,
        stage: Stage,
        index: usize,
        unit: &UnitFit,
        layer: Layer,
        allowance: f64,
    ) -> Pass {
        let to = unit.rebate_width.map(|width| width - allowance);
        let from = PerSide::from_fn(|side| self.open_at(unit, side, layer).min(*to.get(side)));
        let up_to = if allowance > 0.0 { UpTo::Rough } else { UpTo::New };
        let whole = unit.outlines.wall.outline();
        let wall = match up_to {
            UpTo::Rough => self.rough.get(index).unwrap_or(whole),
            UpTo::New => whole,
        };
        let widest = self.standing.get(index).map_or(0.0, |wood| wood.widest(up_to, layer));
        Pass {
            stage,
            place: unit.light.clone(),
            bite: Bite::Ring(Ring {
                unit: index,
                sight: unit.outlines.sight.clone(),
                wall: wall.clone(),
                from,
                to,
                widest,
            }),
            from_depth: layer.from,
            to_depth: layer.to,
            left: self.ring_left(unit, to, layer.to),
        }
    }

    /// Sight edge to the first wood on `side` within the layer.
    fn open_at(&self, unit: &UnitFit, side: Side, layer: Layer) -> f64 {
        match self.old(unit, side) {
            OldGlazing::Rebate { width, depth } if layer.to <= depth + SAME => width,
            OldGlazing::Groove { from_face, width, depth }
                if layer.from >= from_face - SAME && layer.to <= from_face + width + SAME =>
            {
                depth
            }
            _ => 0.0,
        }
    }

    fn strip(&self, stage: Stage, index: usize, bar: &Bar, width: f64, layer: Layer) -> Pass {
        // The rim reaches as far as the ring does, and in the old rebate no further than its walls.
        let reach = match stage {
            Stage::LowerBars => &self.old_walls,
            _ => self.rough.first().unwrap_or(&self.old_walls),
        };
        let (thickness, moulding) = self.sash.section_of(Part::Bar(index));
        let under = thickness - layer.to - moulding.greatest_height(0.0, bar.width / 2.0);
        Pass {
            stage,
            place: self.sash.part_name(Part::Bar(index)),
            bite: Bite::Strip(Strip { bar: index, width, reach: reach.clone() }),
            from_depth: layer.from,
            to_depth: layer.to,
            left: TimberLeft { under, beside: None },
        }
    }

    /// Least wood round a unit once its rebate is `widths` wide and `depth` deep.
    fn ring_left(&self, unit: &UnitFit, widths: PerSide<f64>, depth: f64) -> TimberLeft {
        let mut left = TimberLeft { under: f64::INFINITY, beside: None };
        for (side, &width) in widths.iter() {
            let (part, old) = self.sash.beside(&unit.outlines.sight, side);
            let (thickness, moulding) = self.sash.section_of(part);
            let under = |from: f64, to: f64, floor: f64| {
                thickness - floor - moulding.greatest_height(from, to)
            };
            let old_floor = depth.max(old.depth());
            left.under = left.under.min(under(0.0, old.width().min(width), old_floor));
            left.under = left.under.min(under(0.0, width, depth));
            if let Part::Member(member) = part {
                let beside = self.sash.measured.members.get(member).width - width;
                left.beside = Some(left.beside.map_or(beside, |least: f64| least.min(beside)));
            }
        }
        left
    }

    fn findings(&self) -> Vec<Finding> {
        let cutter = &self.workshop.cutter;
        let depth = self.fit.depth;
        // A thinner shank clears the wall, so only its length in the collet counts then.
        let slim = cutter.shank_diameter < cutter.diameter - 2.0 * self.workshop.cutting.tolerance;
        let long = cutter.cutting_length >= depth || slim;
        let mut findings = vec![Finding {
            rule: "passes.cutter-length",
            place: "cutter".into(),
            measured: Quantity::mm(cutter.cutting_length),
            limit: Quantity::mm(depth),
            verdict: if long { Verdict::Clear } else { Verdict::Stop },
            advice: if long {
                "The cutter reaches the new platform.".into()
            } else {
                format!(
                    "Use a cutter whose edges are at least {depth:.1} mm long, or whose shank is thinner than its edges."
                )
            },
            basis: Basis::Geometry,
        }];
        let deepest = self.workshop.cutting.step_depth.max(self.workshop.cutting.widen_step);
        let deep = deepest > cutter.radius() + SAME;
        findings.push(Finding {
            rule: "passes.step-depth",
            place: "cutter".into(),
            measured: Quantity::mm(deepest),
            limit: Quantity::mm(cutter.radius()),
            verdict: if deep { Verdict::Caution } else { Verdict::Clear },
            advice: if deep {
                "Take shallower steps: no deeper than the cutter's radius.".into()
            } else {
                "No step is deeper than the cutter's radius.".into()
            },
            basis: Basis::CommonPractice,
        });
        findings.push(self.finishing_cut());
        findings
    }

    /// `passes.finish`: a finishing cut is not held to the step depth, because only the rim of the
    /// cutter takes it. In an inside corner it is √2 as wide, and must still not reach the axis.
    fn finishing_cut(&self) -> Finding {
        let (cutter, cutting) = (&self.workshop.cutter, &self.workshop.cutting);
        let widest = (cutter.radius() - cutting.tolerance) / SQRT_2;
        // The bound itself leaves the rim no width at all.
        let measured = Quantity::mm(cutting.finish_allowance + SAME);
        Finding::at_most(
            "passes.finish",
            "cutter",
            measured,
            Bounds::stop(Bound::geometry(widest)),
            |verdict, bound| match verdict {
                Verdict::Clear => "Only the cutter's rim takes the finishing cut.".into(),
                _ => format!(
                    "Leave less than {bound:.1} mm for the finishing cut (finish_allowance), or use a wider cutter."
                ),
            },
        )
    }
}

/// Whether a ring has anything to cut on any side. Where bars are housed in the frame their ends want
/// the ring all the same.
fn takes_wood(pass: &Pass) -> bool {
    match &pass.bite {
        Bite::Ring(ring) => ring.widest > SAME,
        _ => true,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
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

    #[test]
    fn a_groove_is_open_only_between_its_lips() {
        let mut survey = casement();
        survey.members.top.old = OldGlazing::Groove { from_face: 10.0, width: 5.0, depth: 8.0 };
        let plan = planned(&survey);
        let first = plan.passes.iter().find(|pass| pass.stage == Stage::Widen).unwrap();
        let Bite::Ring(ring) = &first.bite else { panic!("widening goes all round") };
        assert_eq!((ring.from.top, ring.from.left), (0.0, 9.0));
    }
}
