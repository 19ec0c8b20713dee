//! A bead that stands proud of the glazing face.

use crate::finding::{Bounds, Finding, Quantity, Verdict};
use crate::survey::{Kind, Limits, Sash};

/// Judges the bead: `timber.proud`. A fixed sash closes against nothing, so there it is always clear.
pub(super) fn judge(sash: &Sash, limits: &Limits) -> Finding {
    let proud = sash.finish.proud;
    let bounds = Bounds::stop(&limits.proud_stop);
    let mut finding = Finding::at_most(
        "timber.proud",
        "bead",
        Quantity::mm(proud),
        bounds,
        |verdict, bound| {
            if verdict == Verdict::Clear {
                "the bead clears stops and the other sash".to_owned()
            } else {
                format!(
                    "the sash slides or closes against a stop: let the bead stand {bound:.1} mm proud \
                     at most, and make up the depth with a thinner unit or a lower bead"
                )
            }
        },
    );
    if sash.kind == Kind::Fixed {
        finding.verdict = Verdict::Clear;
        "the sash is fixed: its bead may stand proud".clone_into(&mut finding.advice);
    }
    finding
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sash::tests::casement;

    #[test]
    fn only_a_fixed_sash_may_have_a_proud_bead() {
        let mut sash = casement();
        let limits = Limits::default();
        assert_eq!(judge(&sash, &limits).verdict, Verdict::Clear);
        sash.finish.proud = 1.0;
        assert_eq!(judge(&sash, &limits).verdict, Verdict::Stop);
        sash.kind = Kind::Fixed;
        assert_eq!(judge(&sash, &limits).verdict, Verdict::Clear);
    }
}
