//! The word that was probably meant.

/// The word of `known` nearest to `written`, if it is near enough to be a slip: at most a third of
/// its letters wrong, missing, added or swapped with a neighbour.
pub fn nearest<'k>(written: &str, known: impl IntoIterator<Item = &'k str>) -> Option<&'k str> {
    // Nobody slips this far; the distance below costs the product of both lengths.
    if written.len() > 60 {
        return None;
    }
    let folded = fold(written);
    known
        .into_iter()
        .map(|word| (distance(&folded, &fold(word)), word))
        .filter(|(wrong, word)| *wrong <= (word.chars().count() / 3).max(1))
        .min_by_key(|(wrong, _)| *wrong)
        .map(|(_, word)| word)
}

/// Case, and the choice of hyphen, underscore or space, are no difference.
fn fold(word: &str) -> Vec<char> {
    word.chars()
        .flat_map(char::to_lowercase)
        .map(|c| if matches!(c, '-' | ' ') { '_' } else { c })
        .collect()
}

/// Edits that turn one word into the other (optimal string alignment).
fn distance(a: &[char], b: &[char]) -> usize {
    let mut before: Vec<usize> = Vec::new();
    let mut above: Vec<usize> = (0..=b.len()).collect();
    let mut last = None;
    for (i, &from) in a.iter().enumerate() {
        let mut row = vec![i + 1];
        let mut left = i + 1;
        for (j, &to) in b.iter().enumerate() {
            let at =
                |cells: &[usize], index: usize| cells.get(index).copied().unwrap_or(usize::MAX / 2);
            let mut least =
                (at(&above, j) + usize::from(from != to)).min(at(&above, j + 1) + 1).min(left + 1);
            let swapped = j > 0 && last == Some(to) && b.get(j - 1) == Some(&from);
            if swapped {
                least = least.min(at(&before, j - 1) + 1);
            }
            row.push(least);
            left = least;
        }
        before = std::mem::replace(&mut above, row);
        last = Some(from);
    }
    above.last().copied().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_find_their_word_and_strangers_do_not() {
        let known = ["thickness", "timber", "sight", "rails", "bars_as"];
        assert_eq!(nearest("thicknes", known), Some("thickness"));
        assert_eq!(nearest("Timber", known), Some("timber"));
        assert_eq!(nearest("sihgt", known), Some("sight"));
        assert_eq!(nearest("bars-as", known), Some("bars_as"));
        assert_eq!(nearest("putty", known), None);
        assert_eq!(nearest(&"x".repeat(100_000), known), None);
    }

    #[test]
    fn distances_in_closed_form() {
        let d = |a: &str, b: &str| distance(&fold(a), &fold(b));
        assert_eq!(d("", "abc"), 3);
        assert_eq!(d("kitten", "sitting"), 3);
        assert_eq!(d("ab", "ba"), 1);
        assert_eq!(d("same", "same"), 0);
    }
}
