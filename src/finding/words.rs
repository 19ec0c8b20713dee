//! Places of judgements in a row.

use crate::language::{Text, text};

/// Like places as one: `all four corners`, `left stile and right stile`, three names in a row at the most; none for the sash as a whole and for the cutter.
pub fn places(places: &[&Text]) -> Option<Text> {
    let name = |place: &Text| if let Text::Name(name) = place { Some(name.clone()) } else { None };
    let names: Vec<String> = places.iter().filter_map(|place| name(place)).collect();
    let corners = names.iter().filter(|name| name.contains(" into ")).count();
    let members = ["left stile", "right stile", "bottom rail", "top rail"];
    if places.len() == 4 && corners == 4 {
        return Some(Text::name("all four corners"));
    }
    if places.len() == 4 && members.iter().all(|member| names.iter().any(|name| name == member)) {
        return Some(Text::name("all round"));
    }
    Some(match places {
        [] => return None,
        // Of the cutter the sentence itself speaks.
        [Text::Name(name)] if name == "whole sash" || name == "cutter" => return None,
        [one] => (*one).clone(),
        [one, other] => text!("list-and", one, other),
        [one, other, last] => text!("list-of-three", one, other, last),
        [one, other, ..] => text!("list-and-more", one, other, count = places.len() - 2),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn like_places_are_told_as_one() {
        let places = |names: &[&str]| {
            let all: Vec<Text> = names.iter().map(|name| Text::name(*name)).collect();
            let told = super::places(&all.iter().collect::<Vec<_>>());
            told.map_or_else(String::new, |told| told.to_string())
        };
        let members = ["left stile", "right stile", "bottom rail", "top rail"];
        assert_eq!(places(&members), "all round");
        assert_eq!(places(&members[..2]), "left stile and right stile");
        assert_eq!(places(&members[..3]), "left stile, right stile and bottom rail");
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
