//! Places of judgements in a row.

/// Most names in a row.
const MOST_NAMES: usize = 3;

/// Like places as one: `all four corners`, `left stile and right stile`; empty for the sash as a whole and for the cutter.
pub fn places(names: &[&str]) -> String {
    let corners = names.iter().filter(|name| name.contains(" into ")).count();
    let members = ["left stile", "right stile", "bottom rail", "top rail"];
    if names.len() == 4 && corners == 4 {
        return "all four corners".into();
    }
    if names.len() == 4 && members.iter().all(|member| names.contains(member)) {
        return "all round".into();
    }
    match names {
        // Of the cutter the sentence itself speaks.
        [] | ["whole sash" | "cutter"] => String::new(),
        [one] => (*one).to_owned(),
        [before @ .., last] if names.len() <= MOST_NAMES => {
            format!("{} and {last}", before.join(", "))
        }
        [first, second, ..] => format!("{first}, {second} and {} more", names.len() - 2),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn like_places_are_told_as_one() {
        let members = ["left stile", "right stile", "bottom rail", "top rail"];
        assert_eq!(places(&members), "all round");
        assert_eq!(places(&members[..2]), "left stile and right stile");
        assert_eq!(places(&["a", "b", "c", "d", "e"]), "a, b and 3 more");
        assert_eq!(places(&["whole sash"]), "");
        let corners = [
            "bottom rail into left stile",
            "bottom rail into right stile",
            "top rail into left stile",
            "top rail into right stile",
        ];
        assert_eq!(places(&corners), "all four corners");
    }
}
