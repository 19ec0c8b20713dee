//! Corners and bars where the cut meets a joint.
//!
//! The rebates of a stile and a rail cross in the corner, over the rail's tenon in its mortice: a cut
//! deeper than the near cheek lays the tenon bare there. Bars stand in the members by small tenons, and
//! where they cross they are often halved into one another. What was not surveyed is reckoned as the
//! middle third, or the half, as is usual (common practice), and only ever asks for care. Corners whose
//! members bend or lean are left to [`shaped_corners`].

use super::bars::cuts;
use super::shaped_corners::{self, CornerNotJudged};
use super::tenon::{self, TenonLeft};
use super::uncut::Uncut;
use super::units;
use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict};
use crate::fit::Fit;
use crate::geometry::{COINCIDENT, Edge, Side};
use crate::language::text;
use crate::sash::{Part, Sash};
use crate::survey::Limits;
use schemars::JsonSchema;
use serde::Serialize;

/// What is left of the joint in one corner.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct JointLeft {
    /// `bottom rail into left stile`.
    pub name: String,
    /// How much of the tenon's thickness the old rebates lay bare in the corner, mm.
    pub bare_before: f64,
    /// How much of it the new ones do, mm.
    pub bare_after: f64,
    /// Length of the tenon that stays housed on both cheeks, from the new wall to the stile's outer
    /// edge, mm.
    pub housed: f64,
    /// Part of the corner that the cut opens over the tenon, along the stile's and the rail's width, mm.
    pub over: [f64; 2],
    /// False where no tenon was surveyed and the middle third of the rail stands in for it.
    pub surveyed: bool,
}

/// What is left of the joint of one bar.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct BarJointLeft {
    /// What a joiner calls the bar.
    pub name: String,
    /// Its tenon.
    pub tenon: TenonLeft,
}

/// Joints of a sash after the cut.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Joints {
    /// Lower left, lower right, upper left, upper right; without those that are not judged.
    pub corners: Vec<JointLeft>,
    /// Corners of members that bend or lean.
    pub not_judged: Vec<CornerNotJudged>,
    /// Glazing bars, in the order of the survey.
    pub bars: Vec<BarJointLeft>,
    /// Wood that is left of the half nearer the glazing face where bars cross, mm; none where no bars
    /// cross or they keep their web.
    pub halving: Option<f64>,
}

/// Measures every joint.
pub(super) fn measure(uncut: &Uncut, sash: &Sash, fit: &Fit) -> Joints {
    let all = [Side::Bottom, Side::Top]
        .into_iter()
        .flat_map(|rail| [Side::Left, Side::Right].map(|stile| (rail, stile)));
    let (square, shaped): (Vec<_>, Vec<_>) =
        all.partition(|&(rail, stile)| shaped_corners::about_square(&sash.outline, rail, stile));
    let bars = sash.bars.iter().zip(&uncut.bars).filter_map(|(placed, piece)| {
        let bar = &placed.measured;
        let tenon = tenon::reckoned(bar.tenon, bar.thickness);
        let range = tenon::range(&tenon);
        let before = piece.uncut.area_within(range);
        let after = piece.uncut.bar_cut(cuts(sash, fit, placed)).area_within(range);
        (before > 0.0).then(|| BarJointLeft {
            name: placed.name(),
            tenon: TenonLeft {
                before,
                after,
                share: after / before,
                haunch_before: 0.0,
                haunch_after: 0.0,
                surveyed: bar.tenon.is_some(),
            },
        })
    });
    Joints {
        corners: square.into_iter().map(|(rail, stile)| corner(sash, fit, rail, stile)).collect(),
        not_judged: shaped
            .into_iter()
            .map(|(rail, stile)| shaped_corners::measure(sash, fit, rail, stile))
            .collect(),
        bars: bars.collect(),
        halving: halving(sash, fit),
    }
}

fn corner(sash: &Sash, fit: &Fit, rail: Side, stile: Side) -> JointLeft {
    let (across, along) = (sash.measured.members.get(rail), sash.measured.members.get(stile));
    let tenon = tenon::reckoned(across.tenon, across.thickness);
    let bare = |depth: f64| (depth - tenon.from_face).clamp(0.0, tenon.thickness);
    let in_rail = units::rebate_in_member(sash, fit, rail).most;
    let in_stile = units::rebate_in_member(sash, fit, stile).most;
    // Only where both rebates run does the corner open.
    let old = across.old.depth().min(along.old.depth());
    JointLeft {
        name: format!(
            "{} into {}",
            sash.part_name(Part::Member(rail)),
            sash.part_name(Part::Member(stile))
        ),
        bare_before: bare(old),
        bare_after: bare(fit.depth.max(old)),
        housed: (along.width - in_stile.max(along.old.width())).max(0.0),
        over: [in_stile, in_rail],
        surveyed: across.tenon.is_some(),
    }
}

/// Halved bars: each has its wood in one half of the thickness at the crossing.
fn halving(sash: &Sash, fit: &Fit) -> Option<f64> {
    let bars = || sash.cut_bars().iter();
    let daylight = sash.outline.outline();
    let cross = |a: &Edge, b: &Edge| a.crossings(b).into_iter().any(|at| daylight.contains(at));
    let pairs = bars().flat_map(|one| bars().skip(one.index + 1).map(move |other| (one, other)));
    let thinner = pairs
        .filter(|(a, b)| cross(&a.path, &b.path))
        .map(|(a, b)| a.measured.thickness.min(b.measured.thickness));
    thinner.reduce(f64::min).map(|thin| (thin / 2.0 - fit.depth).max(0.0))
}

/// Judges every joint: `timber.joint`, `timber.bar-joint`, `timber.crossing`.
pub(super) fn judge(joints: &Joints, limits: &Limits) -> Vec<Finding> {
    let mut findings: Vec<Finding> = joints.corners.iter().map(judge_corner).collect();
    findings.extend(joints.not_judged.iter().map(shaped_corners::judge));
    findings.extend(joints.bars.iter().map(|joint| judge_bar(joint, limits)));
    findings.extend(joints.halving.map(judge_halving));
    findings
}

fn judge_corner(joint: &JointLeft) -> Finding {
    let bounds = Bounds::caution(Bound::geometry(joint.bare_before));
    let measured = Quantity::mm(joint.bare_after);
    Finding::at_most("timber.joint", joint.name.as_str(), measured, bounds, |verdict, _| {
        let [x, y] = joint.over;
        match verdict {
            Verdict::Caution if !joint.surveyed => text!("wood-joint-may-open"),
            Verdict::Clear if joint.surveyed => text!("wood-joint-stays"),
            Verdict::Clear => text!("wood-joint-stays-reckoned"),
            _ => text!(
                "wood-joint-opens",
                bare = format!("{:.1}", joint.bare_after),
                x = format!("{x:.0}"),
                y = format!("{y:.0}"),
                housed = format!("{:.0}", joint.housed)
            ),
        }
    })
}

fn judge_bar(joint: &BarJointLeft, limits: &Limits) -> Finding {
    let left = &joint.tenon;
    let bounds = tenon::bounds(left.surveyed, limits);
    let measured = Quantity { value: left.share * 100.0, unit: "%" };
    Finding::at_least("timber.bar-joint", joint.name.as_str(), measured, bounds, |verdict, _| {
        match verdict {
            Verdict::Clear if left.surveyed => text!("wood-bar-tenon-enough"),
            Verdict::Clear => text!("wood-bar-tenon-enough-reckoned"),
            _ if left.surveyed => text!("wood-bar-tenon-little"),
            _ => text!("wood-bar-tenon-little-reckoned"),
        }
    })
}

fn judge_halving(left: f64) -> Finding {
    // Wood as thin as rounding is no wood.
    let bounds = Bounds::caution(Bound::geometry(COINCIDENT));
    let measured = Quantity::mm(left);
    Finding::at_least("timber.crossing", "bars", measured, bounds, |verdict, _| match verdict {
        Verdict::Clear => text!("wood-crossing-whole"),
        _ => text!("wood-crossing-cut"),
    })
}

#[cfg(test)]
mod tests {
    use super::super::judge as judge_timber;
    use super::*;
    use crate::fit::fit;
    use crate::sash::tests::casement;
    use crate::survey::Runs;
    use crate::survey::{self, Bar, Tenon, Workshop};
    use approx::assert_relative_eq;

    fn joints(survey: &survey::Sash) -> (Joints, Vec<Finding>) {
        let sash = Sash::new(survey).unwrap();
        let workshop = Workshop::default();
        let timber = judge_timber(&sash, &fit(&sash, &workshop).unwrap(), &workshop.limits);
        (timber.joints, timber.findings)
    }

    fn verdicts(findings: &[Finding], rule: &str) -> Vec<Verdict> {
        findings.iter().filter(|f| f.rule == rule).map(|f| f.verdict).collect()
    }

    // By hand: the platform goes from 17 to 27 mm; a tenon from 20 to 32 mm is bared by 7 mm, over
    // 14 × 16 mm at the bottom, and 52 − 14 mm of it stay housed.
    #[test]
    fn a_cut_past_the_near_cheek_opens_the_corner() {
        let mut survey = casement();
        survey.members.bottom.tenon = Some(Tenon { thickness: 12.0, from_face: 20.0, haunch: 0.0 });
        survey.members.top.tenon = Some(Tenon { thickness: 12.0, from_face: 28.0, haunch: 0.0 });
        let (joints, findings) = joints(&survey);
        let low = &joints.corners[0];
        assert_eq!(low.name, "bottom rail into left stile");
        assert_relative_eq!(low.bare_before, 0.0);
        assert_relative_eq!(low.bare_after, 7.0);
        assert_relative_eq!(low.housed, 38.0);
        assert_eq!(low.over, [14.0, 16.0]);
        let care = Verdict::Caution;
        let clear = Verdict::Clear;
        assert_eq!(verdicts(&findings, "timber.joint"), [care, care, clear, clear]);
        // 27 − 15 mm of the middle third of 45 mm, where nothing was surveyed.
        let (joints, findings) = self::joints(&casement());
        assert_relative_eq!(joints.corners[3].bare_after, 12.0);
        let joint = findings.iter().find(|f| f.rule == "timber.joint").unwrap();
        assert!(joint.advised().contains("Measure its thickness"), "{}", joint.advised());
    }

    // By hand: the middle third, 15 to 30 mm, of a bar 45 mm thick and cut down to 27 mm.
    #[test]
    fn bars_cut_down_lose_their_tenons_and_crossings_a_half() {
        let mut survey = casement();
        survey.bars.push(Bar { runs: Runs::Cross, centre: 400.0, ..survey.bars[0].clone() });
        let (found, findings) = joints(&survey);
        // Before: 22 × 15 less two rebates of 9 × 2 (15 to 17 mm); after: 22 × 3 mm.
        assert_relative_eq!(found.bars[0].tenon.before, 22.0 * 15.0 - 36.0, epsilon = 1e-6);
        assert_relative_eq!(found.bars[0].tenon.after, 66.0, epsilon = 1e-6);
        assert_eq!(verdicts(&findings, "timber.bar-joint"), [Verdict::Caution; 3]);
        // Half of 45 mm is 22.5, and 27 mm go.
        assert_eq!(found.halving, Some(0.0));
        assert_eq!(verdicts(&findings, "timber.crossing"), [Verdict::Caution]);
        survey.bars[0].tenon = Some(Tenon { thickness: 10.0, from_face: 33.0, haunch: 0.0 });
        let (found, findings) = joints(&survey);
        assert_relative_eq!(found.bars[0].tenon.share, 1.0);
        assert_eq!(verdicts(&findings, "timber.bar-joint")[0], Verdict::Clear);
        survey.bars_as = crate::survey::BarsAs::UnitPerLight;
        assert_eq!(joints(&survey).0.halving, None);
        assert_eq!(joints(&casement()).0.halving, None);
    }
}
