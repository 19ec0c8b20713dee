//! What the rebate leaves of the tenons.
//!
//! A tenon is looked at in the section at its shoulder: the width of its member by its own thickness.
//! The old rebate or groove has taken its part of that; the share left compares after with before.
//! A surveyed haunch is measured by itself and not counted with the tenon; wedges are not counted.

use super::cross::CrossSection;
use super::platform::shallower;
use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict};
use crate::geometry::Side;
use crate::language::text;
use crate::sash::Stretch;
use crate::survey::{self, Limits, Member, Tenon};
use schemars::JsonSchema;
use serde::Serialize;

/// What is left of a tenon.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct TenonLeft {
    /// Section before the cut, mm².
    pub before: f64,
    /// Section after the cut, mm².
    pub after: f64,
    /// After over before, 0 to 1; 0 where there was none before.
    pub share: f64,
    /// Section of the haunch before the cut, mm².
    pub haunch_before: f64,
    /// Section of the haunch after the cut, mm².
    pub haunch_after: f64,
    /// False where no tenon was surveyed and the middle third of the rail stands in for it.
    pub surveyed: bool,
}

impl TenonLeft {
    /// The tenon at the ends of `member` on `side`, in its sections before and after the cut.
    pub(super) fn new(
        side: Side,
        member: &Member,
        uncut: &CrossSection,
        cut: &CrossSection,
    ) -> Option<TenonLeft> {
        let tenon = tenon_of(side, member)?;
        let within = |section: &CrossSection| {
            let all = section.area_within(range(&tenon));
            let haunch = section.area_within_beyond(range(&tenon), member.width - tenon.haunch);
            ((all - haunch).max(0.0), haunch)
        };
        let (before, haunch_before) = within(uncut);
        let (after, haunch_after) = within(cut);
        let share = if before > 0.0 { after / before } else { 0.0 };
        let surveyed = member.tenon.is_some();
        Some(TenonLeft { before, after, share, haunch_before, haunch_after, surveyed })
    }
}

/// A rail without a surveyed tenon is reckoned to have one in its middle third, as is usual. A stile has none
/// unless it was surveyed.
fn tenon_of(side: Side, member: &Member) -> Option<Tenon> {
    let has_one = member.tenon.is_some() || !side.is_upright();
    has_one.then(|| reckoned(member.tenon, member.thickness))
}

/// The tenon of a part as it was surveyed; of one that nobody has looked at a third of its `thickness`, in the middle
/// (common practice).
pub(super) fn reckoned(surveyed: Option<Tenon>, thickness: f64) -> Tenon {
    let third = thickness / 3.0;
    surveyed.unwrap_or(Tenon { thickness: third, from_face: third, haunch: 0.0 })
}

/// Where a tenon lies, square to the glass.
pub(super) fn range(tenon: &Tenon) -> Stretch {
    Stretch { top: -tenon.from_face, bottom: -tenon.from_face - tenon.thickness }
}

/// Bounds of the share that is left, per cent: a tenon that was not surveyed never stops the work.
pub(super) fn bounds(surveyed: bool, limits: &Limits) -> Bounds {
    let per_cent = |limit| Bound::from(limit).map(|share| share * 100.0);
    let caution = per_cent(&limits.tenon_caution);
    if surveyed {
        Bounds::new(per_cent(&limits.tenon_stop), caution)
    } else {
        Bounds::caution(caution)
    }
}

/// Judges a tenon: `timber.tenon`. One that was not surveyed never stops the work.
pub(super) fn judge(
    place: String,
    (side, sash, uncut): (Side, &survey::Sash, &CrossSection),
    left: &TenonLeft,
    (width, depth): (f64, f64),
    limits: &Limits,
) -> Finding {
    let member = sash.members.get(side);
    let bounds = bounds(left.surveyed, limits);
    let share = Quantity { value: left.share * 100.0, unit: "%" };
    Finding::at_least("timber.tenon", place, share, bounds, |verdict, bound| {
        let sure = |surveyed, reckoned| if left.surveyed { surveyed } else { reckoned };
        if verdict == Verdict::Clear {
            return text!(sure("wood-tenon-enough", "wood-tenon-enough-reckoned"));
        }
        let share = format!("{bound:.0}");
        let spared = depth_for((side, member, uncut), (width, depth), bound / 100.0);
        match spared {
            Some(spared) => {
                let enough = text!(sure("wood-tenon-share", "wood-tenon-share-reckoned"), share);
                shallower(depth - spared, enough, sash, limits)
            }
            None => text!(sure("wood-tenon-none", "wood-tenon-none-reckoned"), share),
        }
    })
}

/// The greatest depth up to `depth`, which leaves less, that leaves `share` of the tenon.
fn depth_for(
    (side, member, uncut): (Side, &Member, &CrossSection),
    (width, depth): (f64, f64),
    share: f64,
) -> Option<f64> {
    let left_at = |depth: f64| {
        let cut = uncut.member_cut(&member.old, width, depth);
        TenonLeft::new(side, member, uncut, &cut).map(|left| left.share)
    };
    // Between these every millimetre takes as much, but where the moulding runs through the tenon.
    let Stretch { top, bottom } = range(&tenon_of(side, member)?);
    let mut bends = [0.0, member.old.depth(), -top, -bottom, depth].map(|bend| bend.min(depth));
    bends.sort_by(f64::total_cmp);
    let mut before = None;
    for at in bends {
        let left = left_at(at)?;
        if left < share {
            return Some(between(left_at, before?, (at, left), share));
        }
        before = Some((at, left));
    }
    Some(depth)
}

/// How near the greatest depth is found, mm: well below the tenths that advice is given in.
const NEAR_DEPTH: f64 = 1e-3;

/// The greatest depth between one that leaves `share` and one that leaves less, by straight interpolation where
/// that does, and by halving.
fn between(
    left_at: impl Fn(f64) -> Option<f64>,
    (mut low, most): (f64, f64),
    (mut high, less): (f64, f64),
    share: f64,
) -> f64 {
    let mut at = low + (high - low) * (most - share) / (most - less);
    while high - low > NEAR_DEPTH {
        match left_at(at) {
            // Straight: no deeper place leaves as much.
            Some(left) if (left - share).abs() <= f64::EPSILON => return at,
            Some(left) if left >= share => low = at,
            _ => high = at,
        }
        at = f64::midpoint(low, high);
    }
    low
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sash::tests::casement;
    use crate::survey::{Moulding, OldGlazing};
    use approx::assert_relative_eq;

    fn rail(tenon: Option<Tenon>) -> Member {
        Member {
            width: 52.0,
            thickness: 45.0,
            old: OldGlazing::Rebate { width: 9.0, depth: 17.0 },
            tenon,
            moulding: Moulding::Square,
        }
    }

    fn tenon_left(side: Side, member: &Member, width: f64, depth: f64) -> Option<TenonLeft> {
        let uncut = CrossSection::member(member);
        TenonLeft::new(side, member, &uncut, &uncut.member_cut(&member.old, width, depth))
    }

    fn judged(member: &Member, width: f64, depth: f64) -> Finding {
        let left = tenon_left(Side::Top, member, width, depth).unwrap();
        let limits = Limits::default();
        let mut sash = casement();
        sash.members.top = member.clone();
        let wood = (Side::Top, &sash, &CrossSection::member(member));
        judge("top rail".into(), wood, &left, (width, depth), &limits)
    }

    // Closed form: rectangles. Tenon 15 to 30 mm deep: 52 × 15 less 9 × 2 before, less 14 × 12 after.
    #[test]
    fn the_share_is_that_of_rectangles() {
        let member = rail(Some(Tenon { thickness: 15.0, from_face: 15.0, haunch: 0.0 }));
        let left = tenon_left(Side::Top, &member, 14.0, 27.0).unwrap();
        assert_relative_eq!(left.before, 762.0);
        assert_relative_eq!(left.after, 612.0);
        assert_relative_eq!(left.share, 612.0 / 762.0);
        let finding = judged(&member, 14.0, 27.0);
        assert_relative_eq!(finding.measured.value, 80.314_96, epsilon = 1e-4);
        assert_eq!(finding.verdict, Verdict::Clear);
    }

    #[test]
    fn too_small_a_share_stops_only_where_the_tenon_is_known() {
        let known = judged(
            &rail(Some(Tenon { thickness: 12.0, from_face: 15.0, haunch: 0.0 })),
            40.0,
            27.0,
        );
        assert_eq!(known.verdict, Verdict::Stop);
        // Half of 52 × 12 − 9 × 2 is left where 52 × 12 − 40(D − 15) = 303: D = 23.025, 3.975 less.
        assert!(
            known
                .advised()
                .contains("unit 4.0 mm thinner, or a bead 4.0 mm lower would leave 50 %"),
            "{}",
            known.advised()
        );
        let unknown = judged(&rail(None), 40.0, 30.0);
        assert_eq!(unknown.verdict, Verdict::Caution);
        assert!(unknown.advised().contains("look at the joint"), "{}", unknown.advised());
    }

    // By hand: the outer 20 of 52 mm are haunch; the tenon is 32 wide and as thick as before.
    #[test]
    fn a_haunch_is_measured_by_itself() {
        let member = rail(Some(Tenon { thickness: 15.0, from_face: 15.0, haunch: 20.0 }));
        let left = tenon_left(Side::Top, &member, 14.0, 27.0).unwrap();
        assert_relative_eq!(left.before, 32.0 * 15.0 - 9.0 * 2.0, epsilon = 1e-9);
        assert_relative_eq!(left.after, 32.0 * 15.0 - 14.0 * 12.0, epsilon = 1e-9);
        assert_relative_eq!(left.haunch_before, 300.0, epsilon = 1e-9);
        assert_relative_eq!(left.haunch_after, 300.0, epsilon = 1e-9);
        // A wall 6 mm into the haunch takes 6 × 12 of it.
        let wide = tenon_left(Side::Top, &member, 38.0, 27.0).unwrap();
        assert_relative_eq!(wide.haunch_after, 300.0 - 72.0, epsilon = 1e-9);
    }

    #[test]
    fn a_rebate_short_of_the_tenon_takes_nothing_and_stiles_have_none() {
        let member = rail(Some(Tenon { thickness: 10.0, from_face: 28.0, haunch: 0.0 }));
        assert_relative_eq!(tenon_left(Side::Top, &member, 14.0, 27.0).unwrap().share, 1.0);
        assert_eq!(tenon_left(Side::Left, &rail(None), 14.0, 27.0), None);
    }

    // Halving, against bends at the cheeks and at an old rebate or groove between them.
    #[test]
    fn the_depth_that_leaves_a_share_is_the_one_that_halving_finds() {
        let groove = OldGlazing::Groove { from_face: 14.0, width: 5.0, depth: 8.0 };
        let old = OldGlazing::Rebate { width: 9.0, depth: 17.0 };
        for (old, from_face, haunch) in
            [(old, 15.0, 0.0), (old, 12.0, 20.0), (groove, 10.0, 5.0), (groove, 25.0, 0.0)]
        {
            let tenon = Tenon { thickness: 14.0, from_face, haunch };
            let member = Member { old, ..rail(Some(tenon)) };
            let uncut = CrossSection::member(&member);
            for (width, share) in [(14.0, 0.9), (30.0, 0.6), (45.0, 0.3), (45.0, 0.99)] {
                let enough =
                    |depth| tenon_left(Side::Top, &member, width, depth).unwrap().share >= share;
                let found = depth_for((Side::Top, &member, &uncut), (width, 40.0), share);
                let (mut low, mut high) = (0.0, 40.0);
                if enough(high) {
                    assert_eq!(found, Some(high));
                    continue;
                }
                if !enough(low) {
                    assert_eq!(found, None);
                    continue;
                }
                for _ in 0..40 {
                    let middle = f64::midpoint(low, high);
                    if enough(middle) { low = middle } else { high = middle }
                }
                assert_relative_eq!(found.unwrap(), low, epsilon = 1e-9);
            }
        }
    }
}
