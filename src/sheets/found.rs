//! A finding as a person reads it: its matter in two or three words, and one sentence with the figures inside.
//!
//! The sentence says the wood and not the rule; the rule's id and what its bound rests on stand in JSON. Texts go by
//! rules: a rule that has none is told by its advice alone.

use super::kit::{Voice, tell};
use crate::finding::{Finding, Quantity, Verdict};
use crate::language::sentence;

/// What it is about, in two or three words.
pub fn matter(finding: &Finding, voice: Voice) -> String {
    let own =
        [finding.rule, finding.room()].into_iter().find_map(|of| voice.known(&key("matter", of)));
    own.unwrap_or_else(|| voice.word("matter-other"))
}

/// `matter-timber-front`.
fn key(what: &str, rule: &str) -> String {
    format!("{what}-{}", rule.replace('.', "-"))
}

/// One sentence with the figures, without the place; none where the advice holds them.
pub(super) fn says(finding: &Finding, voice: Voice) -> Option<String> {
    let (measured, limit) = (finding.measured, finding.limit);
    // What is above the floor is a length; of the rest of a duty the advice tells.
    if finding.rule.starts_with("safety.") && measured.unit != "mm" {
        return None;
    }
    let key = key("says", finding.rule);
    let more = [("-none", measured.value <= 0.0), ("-over", measured.value > limit.value)];
    let own = more.into_iter().filter(|(_, holds)| *holds).map(|(more, _)| format!("{key}{more}"));
    let key = own.chain([key.clone()]).find(|key| voice.known(key).is_some())?;
    // Some are measured in words: chips in mm a cutting edge.
    let [m, l] = finding.figures().map(|figure| voice.named(&brief(figure)));
    let [least, usual] = match finding.verdict {
        Verdict::Stop => ["bound-least", "bound-most"],
        _ => ["bound-easy", "bound-usual-most"],
    }
    .map(|key| tell!(voice, key, limit = l));
    let past = brief(Quantity { value: -measured.value, ..measured }.to_string());
    Some(tell!(voice, &key, measured = m, limit = l, least, usual, past))
}

/// The advice as a sentence.
pub(super) fn advice(finding: &Finding, voice: Voice) -> String {
    sentence(&voice.say(&finding.advice))
}

/// The sentence and the advice: what it is, and what to do about it.
pub fn told(finding: &Finding, voice: Voice) -> String {
    let advice = advice(finding, voice);
    match says(finding, voice) {
        Some(says) => format!("{says}. {advice}"),
        None => advice,
    }
}

/// Without a nought that says nothing: `8.0 mm` is 8 mm.
fn brief(figure: String) -> String {
    match figure.split_once(".0") {
        Some((whole, rest)) if !rest.starts_with(|c: char| c.is_ascii_digit()) => {
            format!("{whole}{rest}")
        }
        _ => figure,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::{Basis, Bound, Bounds};
    use crate::language::Text;

    fn front(wood: f64) -> Finding {
        let bound = |value| Bound { value, basis: Basis::CommonPractice };
        let bounds = Bounds::new(bound(5.0), bound(8.0));
        Finding::at_least("timber.front", "left stile", Quantity::mm(wood), bounds, |_, _| {
            Text::given("glue in a slip")
        })
    }

    #[test]
    fn figures_stand_in_the_sentence() {
        let told = |wood| told(&front(wood), Voice::plain());
        assert_eq!(
            told(7.0),
            "7 mm of wood would be left under the glass; 8 mm needs no thought. Glue in a slip."
        );
        assert_eq!(
            told(4.98),
            "4.98 mm of wood would be left under the glass; 5.00 mm is the least. Glue in a slip."
        );
        assert_eq!(
            told(-2.4),
            "no wood would be left under the glass; the cut goes 2.4 mm past it. Glue in a slip."
        );
    }

    #[test]
    fn a_nought_that_says_nothing_is_left_out() {
        let brief = |text: &str| brief(text.to_owned());
        assert_eq!(brief("8.0 mm"), "8 mm");
        assert_eq!(brief("8.05 mm"), "8.05 mm");
        assert_eq!(brief("5.00 mm"), "5.00 mm");
        assert_eq!(brief("75.0 %"), "75 %");
    }
}
