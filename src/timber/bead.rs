//! A bead that stands proud of the glazing face.

use crate::finding::{Bounds, Finding, Quantity, Verdict};
use crate::language::text;
use crate::survey::{Kind, Limits, Sash};

/// Judges the bead: `timber.proud`. A fixed sash closes against nothing, so there it is always clear.
pub(super) fn judge(sash: &Sash, limits: &Limits) -> Finding {
    let proud = sash.finish.proud;
    let bounds = Bounds::stop(&limits.proud_stop);
    let mut finding =
        Finding::at_most("timber.proud", "bead", Quantity::mm(proud), bounds, |verdict, bound| {
            if verdict == Verdict::Clear {
                text!("wood-proud-clear")
            } else {
                text!("wood-proud", bound = format!("{bound:.1}"))
            }
        });
    if sash.kind == Kind::Fixed {
        finding.verdict = Verdict::Clear;
        finding.advice = text!("wood-proud-fixed");
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
