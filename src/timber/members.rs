//! Stiles and rails after the cut.

use super::bending::{self, Bending};
use super::cross::Least;
use super::platform;
use super::section::Section;
use super::tenon::{self, TenonLeft};
use super::uncut::Uncut;
use super::units;
use crate::finding::{Bounds, Finding, Quantity, Verdict, up_to_tenth};
use crate::fit::Fit;
use crate::geometry::{COINCIDENT, MinMax, PerSide, Side};
use crate::language::text;
use crate::sash::{Part, Sash};
use crate::survey::Limits;
use schemars::JsonSchema;
use serde::Serialize;

/// What is left of a stile or rail.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct MemberLeft {
    /// What a joiner calls it.
    pub name: String,
    /// Sight edge to the new rebate wall, mm, over all units that bear on it; 0 for none.
    pub rebate_width: MinMax,
    /// Least wood under the platform.
    pub under_platform: Option<Least>,
    /// Rebate wall to outer edge, mm; the old wall counts where it lies deeper in.
    pub beside: MinMax,
    /// Its tenon.
    pub tenon: Option<TenonLeft>,
    /// Section before the cut.
    pub before: Section,
    /// Section after the cut.
    pub after: Section,
    /// Bending under the stated wind.
    pub bending: Bending,
}

/// Measures every member.
pub(super) fn measure(uncut: &Uncut, sash: &Sash, fit: &Fit) -> PerSide<MemberLeft> {
    PerSide::from_fn(|side| {
        let member = sash.measured.members.get(side);
        let rebate_width = units::rebate_in_member(sash, fit, side);
        let piece = uncut.members.get(side);
        let cut = piece.uncut.member_cut(&member.old, rebate_width.most, fit.depth);
        let (before, after) = (piece.before, piece.after(&cut));
        MemberLeft {
            name: sash.part_name(Part::Member(side)),
            rebate_width,
            under_platform: cut.least(fit.depth, &piece.uncut),
            beside: sash.wood_beside(
                side,
                rebate_width.map(|width| width.max(member.old.width())),
                fit.depth,
            ),
            tenon: TenonLeft::new(side, member, &piece.uncut, &cut),
            before,
            after,
            bending: bending::of_member(sash, side, &before, &after),
        }
    })
}

/// Judges every member.
pub(super) fn judge(
    uncut: &Uncut,
    sash: &Sash,
    fit: &Fit,
    left: &PerSide<MemberLeft>,
    limits: &Limits,
) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (side, left) in left.iter() {
        if let Some(least) = &left.under_platform {
            findings.extend(platform::judge(&left.name, least, &sash.measured, limits));
        }
        findings.push(beside(sash, fit, side, left, limits));
        if let Some(tenon) = &left.tenon {
            let member = (side, &sash.measured, &uncut.members.get(side).uncut);
            let cut = (left.rebate_width.most, fit.depth);
            findings.push(tenon::judge(left.name.clone(), member, tenon, cut, limits));
        }
        findings.push(bending::judge_member(
            left.name.clone(),
            &left.bending,
            &sash.measured.wind,
            limits,
        ));
    }
    findings
}

/// `timber.beside`: the mortices and the joint need wood outside the rebate.
fn beside(sash: &Sash, fit: &Fit, side: Side, left: &MemberLeft, limits: &Limits) -> Finding {
    let bounds = Bounds::new(&limits.beside_stop, &limits.beside_caution);
    let measured = Quantity::mm(left.beside.least);
    // A wall no wider than the old one would stay where it is with any cover.
    let member = sash.measured.members.get(side);
    let widest = left.rebate_width.most;
    let by_old = member.old.width() >= widest - COINCIDENT;
    let groove = sash.cord_groove(side);
    // How much narrower the cut must be to leave so much to the outer edge, and to the groove.
    let narrower = |bound: f64| {
        let to_edge = bound - (member.width - widest);
        let to_groove =
            groove.map(|groove| groove.narrower(member.width, widest, fit.depth, bound));
        to_edge.max(to_groove.unwrap_or(0.0))
    };
    let at_groove = left.beside.least < member.width - widest - COINCIDENT && groove.is_some();
    Finding::at_least(
        "timber.beside",
        left.name.as_str(),
        measured,
        bounds,
        |verdict, bound| match (verdict, by_old) {
            (Verdict::Clear, _) if at_groove => text!("wood-beside-groove-enough"),
            (Verdict::Clear, _) => text!("wood-beside-enough"),
            (_, true) => text!("wood-old-as-wide"),
            (_, false) => {
                let less = format!("{:.1}", up_to_tenth(narrower(bound)));
                let key = if at_groove { "wood-beside-groove" } else { "wood-beside" };
                text!(key, less, bound = format!("{bound:.1}"))
            }
        },
    )
}
