use super::pictures;
use super::places::{
    AROUND, AT_THE_DESK, BARS, FIXINGS, FRONT, MEMBERS, MORE, NAME, Part, SHAPE, UNIT, WHERE,
    WORKSHOP,
};
use super::{LONG, document};
use crate::drawing::{Item, Page, Scene};
use crate::sheets::kit::{BOX, Voice, sheet};
use crate::sheets::layers::{BOXES, WORDS};
use crate::survey::{Paper, keys};
use std::collections::BTreeSet;

fn parts() -> Vec<Part> {
    let mut parts = vec![WHERE, NAME, MORE, MEMBERS, BARS];
    parts.extend_from_slice(UNIT);
    parts.extend_from_slice(FRONT);
    parts.extend_from_slice(FIXINGS);
    parts.extend_from_slice(SHAPE);
    parts.extend_from_slice(AROUND);
    parts.extend_from_slice(WORKSHOP);
    parts
}

/// Every key that some box stands for.
fn keys_of_boxes() -> BTreeSet<String> {
    let sides = ["left", "right", "top", "bottom"];
    let mut found = BTreeSet::new();
    for part in parts() {
        for key in part.places.iter().flat_map(|place| place.keys) {
            let path = format!("{}{key}", part.prefix);
            for side in sides {
                found.insert(path.replace(".side.", &format!(".{side}.")));
            }
        }
    }
    found
}

// A key that comes into the survey and not onto the form fails here.
#[test]
fn every_key_of_a_survey_has_its_box_and_no_box_has_another_key() {
    let at_the_desk = |path: &str| AT_THE_DESK.iter().any(|(prefix, _)| path.starts_with(prefix));
    for (prefix, why) in AT_THE_DESK {
        assert!(keys().iter().any(|key| key.path.starts_with(prefix)) && !why.is_empty());
    }
    let all: BTreeSet<String> =
        keys().into_iter().map(|key| key.path).filter(|path| !at_the_desk(path)).collect();
    assert_eq!(keys_of_boxes(), all);
}

fn letters(scene: &Scene) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for (layer, items) in scene.layers() {
        for item in items {
            if let Item::Text(text) = item
                && *layer == WORDS
                && text.value.len() == 1
                && text.value != "0"
            {
                found.insert(text.value.clone());
            }
        }
    }
    found
}

#[test]
fn every_letter_of_a_picture_stands_at_a_box_and_the_other_way_round() {
    let mut drawn = letters(&pictures::sash(Voice::plain()));
    drawn.extend(letters(&pictures::bar_and_screws(Voice::plain())));
    drawn.extend(letters(&pictures::shapes(Voice::plain())));
    let asked: BTreeSet<String> = parts()
        .iter()
        .flat_map(|part| part.places)
        .filter(|place| !place.mark.is_empty())
        .map(|place| place.mark.to_owned())
        .collect();
    assert_eq!(drawn, asked);
    assert!(drawn.len() > 20);
}

#[test]
fn a_plain_sash_is_one_side_on_every_paper() {
    for paper in [Paper::A4, Paper::A3, Paper::Letter] {
        let form = document(paper, Voice::plain());
        assert!(form.pages.len() <= 7, "{paper:?}: {}", form.pages.len());
        // What only some sashes want begins on the second page.
        let begins = |page: &Page| {
            let texts = page.texts();
            texts.iter().any(|text| text.value.starts_with("Only where it differs"))
        };
        assert_eq!(form.pages.iter().position(begins), Some(1), "{paper:?}");
        let short = sheet(paper).height < LONG;
        let mut wanted = 0;
        for part in parts() {
            let list = part.prefix.ends_with("[].") && part.rows.len() > 1;
            wanted += part.places.len() * (part.rows.len() - usize::from(short && list));
        }
        let mut found = 0;
        for page in &form.pages {
            assert_eq!(page.troubles(), [], "{paper:?}");
            for (layer, items) in page.placed.iter().flat_map(|placed| placed.scene.layers()) {
                let outlines = items.iter().filter(|item| matches!(item, Item::Outline(_)));
                for outline in outlines.filter(|_| *layer == BOXES) {
                    let Item::Outline(outline) = outline else { continue };
                    let size = outline.bounds().size();
                    assert!((size.height - BOX).abs() < 1e-9 && BOX >= 8.0 && size.width >= 10.0);
                    found += 1;
                }
            }
        }
        assert_eq!(found, wanted, "{paper:?}");
    }
}
