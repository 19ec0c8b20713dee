//! One sash keeps back no other: whatever a survey that reads holds, there is a folder.
//!
//! Cases come from a fixed seed; `FILLISTER_CASES=2000` runs that many, `FILLISTER_SEED=1` others.

use crate::support::chance::Deck;
use crate::support::houses::{DECK, deck, draw_sash_within, draw_workshop};
use crate::support::refusals::refusals;
use crate::support::runs::for_all;
use crate::support::{machinable, shapes};
use fillister::finding::Verdict;
use fillister::geometry::{Arc, Edge, Side, Sided};
use fillister::job;
use fillister::survey::{self, House, UnitShape};
use kurbo::Point;
use proptest::prelude::*;
use std::cell::Cell;

/// A light of two arcs that lean from one point to another, as between intersecting bars.
fn two_arcs(deck: &mut Deck, width: f64) -> Option<Sided> {
    let (a, b) = (Point::ZERO, Point::new(width, 0.0));
    let mut arc = |from, to| Arc::from_bulge(from, to, deck.between(0.1, 1.0)).map(Edge::Arc);
    let outline = Sided::new(vec![(arc(a, b)?, Side::Bottom), (arc(b, a)?, Side::Top)]).ok()?;
    let corner = outline.bounds().origin().to_vec2();
    Some(outline.moved(-corner))
}

/// Houses of two sashes with what a survey can hold: heads, crooked and round ones, lights of two arcs, bars.
fn house() -> impl Strategy<Value = House> {
    (machinable::house(), deck(2 * DECK + 100)).prop_map(|(mut house, deck)| {
        let deck = &mut Deck::new(deck);
        if deck.chance(0.5) {
            house.workshop = draw_workshop(deck);
        }
        if deck.chance(0.7) {
            shapes::reshape(&mut house.sashes[0], deck);
        }
        let mut other = draw_sash_within(deck, 2, (50.0, 700.0));
        let width = other.sight.width;
        match deck.index(3) {
            0 => {}
            1 => shapes::reshape(&mut other, deck),
            _ => {
                other.bars.clear();
                other.unit.shape = UnitShape::Shaped;
                if let Some(outline) = two_arcs(deck, width) {
                    other.sight = outline.bounds().size();
                    other.outline = Some(outline);
                }
            }
        }
        house.sashes.push(other);
        house
    })
}

#[test]
fn every_house_has_its_folder_and_every_sheet() {
    let (seen, told, read) = (Cell::new(0), Cell::new(0), Cell::new(0));
    for_all(30, &house(), |house| {
        seen.set(seen.get() + 1);
        let made = job::make(&house);
        let made = made.map_err(|error| TestCaseError::fail(error.to_string()))?;
        let report = &made.report;
        prop_assert_eq!(report.sashes.len() + report.cannot_be_cut.len(), house.sashes.len());
        for finding in report.sashes.iter().flat_map(|sash| &sash.findings) {
            if finding.rule == "job.not-drawn" {
                told.set(told.get() + 1);
                eprintln!("{}: {}", finding.place, finding.advised());
            }
        }
        // What a survey may hold is worked out, or the place that no rebate goes round is named.
        if refusals(&house).is_empty() {
            read.set(read.get() + 1);
            for finding in report.cannot_be_cut.iter().flat_map(|sash| &sash.findings) {
                prop_assert!(finding.rule != "job.unworked", "{}", finding.advised());
            }
        }
        prop_assert!(report.cautions.iter().all(|line| !line.told.contains("could not be made")));
        Ok(())
    });
    // All that can be worked out is drawn.
    assert_eq!(told.get(), 0, "sheets left out of {} houses", seen.get());
    assert!(read.get() * 2 >= seen.get(), "a survey takes {} of {}", read.get(), seen.get());
}

// A plain sash beside a light of two arcs: 400 mm from point to point, each rising by 60.
#[test]
fn a_light_of_two_arcs_takes_no_other_along() {
    let member = "kind = \"fixed\"\nthickness = 57\nstiles = { width = 57 }\nrails = { width = 57 }\n\
                  rebate = { width = 9, depth = 17 }\n\
                  moulding = { shape = \"ovolo\", width = 8, depth = 10 }\nunit = { build_up = \"4-6-4\" }\n";
    let sash =
        |id: &str, sight: &str| format!("[[sash]]\nid = \"{id}\"\nsight = {sight}\n{member}");
    let text = format!(
        "house = \"Samphire Cottage\"\n{}{}",
        sash("plain", "{ width = 620, height = 500 }"),
        sash("vesica", "{ outline = [[0, 0, 0.3], [400, 0, 0.3]] }"),
    );
    let made = job::make(&survey::read(&text, "vesica.toml").unwrap()).unwrap();
    for id in ["plain", "vesica"] {
        for file in ["workshop.pdf", "template.pdf", "proof.svg", "sash.dxf"] {
            assert!(made.files.contains_key(&format!("{id}/{file}")), "{id}/{file}");
        }
    }
    let found = made.report.sashes.iter().flat_map(|sash| &sash.findings);
    let open = found.filter(|f| f.rule == "job.not-drawn" || f.verdict == Verdict::Stop);
    assert_eq!(open.count(), 0);
}

// Lenses whose arcs go on nearly straight into each other, round which old rebates, or members, of very different
// widths run: their walls meet 70 mm and more from the tips, past the arcs.
#[test]
fn a_light_that_is_nearly_round_is_worked_out() {
    let lens = |id: &str, outline: &str, members: &str| {
        format!(
            "[[sash]]\nid = \"{id}\"\nkind = \"fixed\"\nthickness = 57\nsight = {{ outline = {outline} }}\n\
             stiles = {{ width = 57 }}\n{members}unit = {{ build_up = \"4-6-4\" }}\n\
             moulding = {{ shape = \"ovolo\", width = 8, depth = 10 }}\n"
        )
    };
    let rebates = "rails = { width = 57 }\nrebate = { width = 9, depth = 17 }\n\
                   member = { bottom = { rebate = { width = 1, depth = 17 } } }\n";
    let rails = "rails = { top = 90, bottom = 40 }\nrebate = { width = 9, depth = 17 }\n";
    let text = format!(
        "house = \"Samphire Cottage\"\n{}{}",
        lens("rebates", "[[0, 68, 0.89], [152, 68, 1]]", rebates),
        lens("rails", "[[0, 291, 1], [582, 291, 0.72]]", rails),
    );
    let made = job::make(&survey::read(&text, "lenses.toml").unwrap()).unwrap();
    let left: Vec<&str> = made.report.cannot_be_cut.iter().map(|sash| sash.id.as_str()).collect();
    assert!(left.is_empty(), "{left:?}");
}
