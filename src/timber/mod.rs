//! What the cut leaves of the timber, and each rule that judges it.
//!
//! Promised: every number follows from the surveyed sash and the fit; every rule gives a finding for
//! every place it applies to, clear ones too, so that the joiner sees how much room there is. A deeper
//! or wider rebate never leaves more. Not promised: that the timber is sound; rot, shakes and old
//! repairs are for the eye.

mod bars;
mod bead;
mod bending;
mod cross;
mod joints;
mod members;
mod metal;
mod platform;
mod screws;
mod section;
mod shaped_corners;
mod tenon;
mod uncut;
mod units;

pub use bars::BarLeft;
pub use bending::{Bending, Bent, Class, deflection};
pub use cross::Least;
pub use joints::{BarJointLeft, JointLeft, Joints};
pub use members::MemberLeft;
pub use section::{Moments, Section};
pub use shaped_corners::CornerNotJudged;
pub use tenon::TenonLeft;
pub use uncut::Uncut;

use crate::finding::Finding;
use crate::fit::Fit;
use crate::geometry::PerSide;
use crate::language::{Text, text};
use crate::sash::Sash;
use crate::survey::{Cords, Limits};
use schemars::JsonSchema;
use serde::Serialize;

/// What is left of a sash, measured and judged.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Timber {
    /// Judgements: members, bars, screws, metal, bead.
    pub findings: Vec<Finding>,
    /// Stiles and rails.
    pub members: PerSide<MemberLeft>,
    /// Glazing bars, in the order of the survey.
    pub bars: Vec<BarLeft>,
    /// Corners, tenons of bars, crossings.
    pub joints: Joints,
}

impl Timber {
    /// The part with the least wood under the new platform, by name.
    pub fn least_left(&self) -> Option<(&str, &Least)> {
        let members = self.members.iter();
        let members = members.map(|(_, member)| (member.name.as_str(), &member.under_platform));
        let bars = self.bars.iter().map(|bar| (bar.name.as_str(), &bar.under_platform));
        let wood = members.chain(bars).filter_map(|(name, least)| Some((name, least.as_ref()?)));
        wood.min_by(|(_, a), (_, b)| a.wood.total_cmp(&b.wood))
    }
}

/// Measures what `fit` leaves of `sash` and holds it against `limits`.
pub fn judge(sash: &Sash, fit: &Fit, limits: &Limits) -> Timber {
    judge_cut(&Uncut::new(sash), sash, fit, limits)
}

/// As [`judge`]; what is known already of the sections of this sash is not reckoned again.
pub fn judge_cut(uncut: &Uncut, sash: &Sash, fit: &Fit, limits: &Limits) -> Timber {
    let members = members::measure(uncut, sash, fit);
    let bars = bars::measure(uncut, sash, fit);
    let joints = joints::measure(uncut, sash, fit);
    let mut findings = members::judge(uncut, sash, fit, &members, limits);
    findings.extend(bars::judge(sash, &bars, limits));
    findings.extend(joints::judge(&joints, limits));
    findings.extend(screws::judge(sash, fit, limits));
    findings.extend(metal::judge(sash, fit, &members));
    findings.push(bead::judge(&sash.measured, limits));
    Timber { findings, members, bars, joints }
}

/// What could not be judged for want of a measure, in a sentence.
pub fn not_judged(sash: &Sash) -> Option<Text> {
    (sash.measured.cords == Cords::NotStated).then(|| text!("timber-cords"))
}

#[cfg(test)]
mod tests;
