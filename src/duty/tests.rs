//! Rules by the figures of their sources.

use super::*;
use crate::fit::fit;
use crate::sash::tests::casement;
use crate::survey::Country;
use crate::survey::{self, Kind, Near, Nearby, Opening, Place, Treatment, Workshop};

fn judged(survey: &survey::Sash) -> Duty {
    let sash = Sash::new(survey).unwrap();
    duty(&sash, &fit(&sash, &Workshop::default()).unwrap())
}

fn at(place: Place) -> survey::Sash {
    let mut survey = casement();
    survey.around.place = place;
    survey
}

fn verdict(duty: &Duty, rule: &str) -> Option<Verdict> {
    duty.findings.iter().find(|finding| finding.rule == rule).map(|finding| finding.verdict)
}

fn noted(duty: &Duty, word: &str) -> bool {
    duty.notes.iter().any(|note| note.to_string().contains(word))
}

// Approved Document K (published, quoted): walls to 800 mm, doors and panels beside them to 1500 mm.
#[test]
fn england_asks_below_800_in_walls_and_below_1500_at_doors() {
    let rule = "safety.glazing";
    for (opening, floor, expected) in [
        (Opening::Window, 799.0, Verdict::Caution),
        (Opening::Window, 800.0, Verdict::Clear),
        (Opening::Door, 1499.0, Verdict::Caution),
        (Opening::BesideDoor, 1499.0, Verdict::Caution),
        (Opening::Door, 1500.0, Verdict::Clear),
    ] {
        let place = Place {
            country: Some(Country::England),
            opening: Some(opening),
            floor: Some(floor),
            ..Place::default()
        };
        assert_eq!(verdict(&judged(&at(place)), rule), Some(expected), "{opening:?} {floor}");
        let mut safe = at(place);
        safe.unit.make.glass = Some(Treatment::Toughened);
        assert_eq!(verdict(&judged(&safe), rule), Some(Verdict::Clear));
        safe.unit.make.glass = None;
        safe.unit.build_up = "33.1-6-6.4 lam.".parse().unwrap();
        assert_eq!(verdict(&judged(&safe), rule), Some(Verdict::Clear));
        // One laminated pane of two is not enough.
        safe.unit.build_up = "33.1-6-4".parse().unwrap();
        assert_eq!(verdict(&judged(&safe), rule), Some(expected));
        // Ordinary glass of any thickness is none; what could be laminated is asked about.
        for (text, asks) in [("3.2-6-3.2", false), ("5.5-6-5.5", false), ("6.4-6-6.4", true)] {
            safe.unit.build_up = text.parse().unwrap();
            let judged = judged(&safe);
            assert_eq!(verdict(&judged, rule), Some(expected), "{text}");
            assert_eq!(noted(&judged, "6.4 lam."), asks, "{text}");
        }
    }
}

/// A window in the United States of which everything is known.
fn in_the_states() -> Place {
    Place {
        country: Some(Country::UnitedStates),
        opening: Some(Opening::Window),
        floor: Some(400.0),
        walkway: Some(900.0),
        near: Some(Near::default()),
        ..Place::default()
    }
}

// IRC R308.4.3 (published, quoted): 820 by 930 mm are 0.763 m², below 0.836; 930 by 930 are 0.865.
#[test]
fn the_united_states_ask_where_all_four_hold() {
    let place = in_the_states();
    let wide = |place| {
        let mut survey = at(place);
        survey.sight.width = 930.0;
        judged(&survey)
    };
    let rule = "safety.glazing";
    assert_eq!(verdict(&wide(place), rule), Some(Verdict::Caution));
    assert_eq!(verdict(&judged(&at(place)), rule), Some(Verdict::Clear));
    for clear in [
        Place { floor: Some(457.0), ..place },
        Place { walkway: Some(915.0), ..place },
        Place { floor: Some(500.0), walkway: None, ..place },
    ] {
        assert_eq!(verdict(&wide(clear), rule), Some(Verdict::Clear), "{clear:?}");
    }
    let unknown = wide(Place { walkway: None, ..place });
    assert_eq!(verdict(&unknown, rule), None);
    assert!(
        noted(&unknown, ".3 large low windows. Write in place: walkway."),
        "{:?}",
        unknown.notes
    );
}

// IRC R308.4.1 to .7 (published, summarised): doors and guards whatever the size; beside a door, in wet places and at
// stairs below 60 in, which is 1524 mm; at the foot of stairs below 36 in, which is 914 mm.
#[test]
fn the_united_states_ask_by_every_condition_of_the_code() {
    let (rule, usual) = ("safety.glazing", in_the_states());
    let near = |what: Nearby| Some(Near::from_iter([what]));
    for (place, number, limit) in [
        (Place { opening: Some(Opening::Door), ..usual }, ".1", None),
        (Place { opening: Some(Opening::BesideDoor), ..usual }, ".2", Some(1524.0)),
        (Place { near: near(Nearby::Door), ..usual }, ".2", Some(1524.0)),
        (Place { near: near(Nearby::Guard), ..usual }, ".4", None),
        (Place { near: near(Nearby::Wet), ..usual }, ".5", Some(1524.0)),
        (Place { near: near(Nearby::Stairs), ..usual }, ".6", Some(1524.0)),
        (Place { near: near(Nearby::StairsFoot), ..usual }, ".7", Some(914.0)),
    ] {
        let found = |floor: f64| {
            let duty = judged(&at(Place { floor: Some(floor), ..place }));
            let [finding] = &duty.findings[..] else { panic!("{:?}", duty.findings) };
            assert_eq!(finding.rule, rule);
            assert!(!noted(&duty, "Safety glazing"), "{:?}", duty.notes);
            (finding.verdict, finding.basis.to_string())
        };
        let high = limit.map_or(5000.0, |limit: f64| limit - 1.0);
        let (asked, by) = found(high);
        assert_eq!(asked, Verdict::Caution, "{number}");
        assert!(by.contains(&format!("R308.4{number}")), "{by}");
        if let Some(limit) = limit {
            assert_eq!(found(limit).0, Verdict::Clear, "{number}");
        }
        let mut safe = at(Place { floor: Some(high), ..place });
        safe.unit.make.glass = Some(Treatment::Toughened);
        assert_eq!(verdict(&judged(&safe), rule), Some(Verdict::Clear));
    }
}

// One condition of seven that does not hold says nothing of the other six.
#[test]
fn what_the_survey_does_not_tell_of_the_code_is_said() {
    let told = |place: Place| {
        judged(&at(place)).notes.into_iter().find(|n| n.to_string().contains("States"))
    };
    let place = Place { near: None, ..in_the_states() };
    assert_eq!(
        told(place).unwrap(),
        "Safety glazing in the United States: not by R308.4: .1 doors, .3 large low windows; the others were not \
         judged: .2 beside doors, .4 guards, .5 wet places, .6 stairs, .7 the foot of stairs. Write in place: near ([] if \
         none of it is)."
    );
    assert_eq!(verdict(&judged(&at(place)), "safety.glazing"), None);
    // High over the floor only a guard could ask for it.
    let high = Place { floor: Some(1524.0), ..place };
    assert!(told(high).unwrap().to_string().contains("were not judged: .4 guards. Write"));
    assert_eq!(told(in_the_states()), None);
    // Nobody is sent to measure what could not change the answer: the pane is small enough.
    let told = told(Place { walkway: None, ..place }).unwrap();
    assert!(told.to_string().ends_with("Write in place: near ([] if none of it is)."), "{told}");
}

// Approved Document K 5.6 and 5.7, as a door maker summarises them: 250 mm, 0.5 m², 6 mm.
#[test]
fn small_thick_panes_are_allowed_in_england() {
    let place = Place {
        country: Some(Country::England),
        opening: Some(Opening::Window),
        floor: Some(300.0),
        ..Place::default()
    };
    let asked = |width: f64, height: f64, build_up: &str| {
        let mut survey = at(place);
        survey.bars.clear();
        survey.sight = kurbo::Size::new(width, height);
        survey.unit.build_up = build_up.parse().unwrap();
        judged(&survey).findings.remove(0)
    };
    for (width, height, build_up, expected) in [
        (250.0, 900.0, "6-6-6", Verdict::Clear),
        (251.0, 900.0, "6-6-6", Verdict::Caution),
        (250.0, 2001.0, "6-6-6", Verdict::Caution),
        (250.0, 900.0, "6-6-4", Verdict::Caution),
        (250.0, 900.0, "18", Verdict::Caution),
    ] {
        assert_eq!(asked(width, height, build_up).verdict, expected, "{width} {height} {build_up}");
    }
    assert!(asked(250.0, 900.0, "4-6-4").advised().contains("ordinary panes of 6 mm"));
    assert!(!asked(600.0, 900.0, "4-6-4").advised().contains("6 mm"));
}

#[test]
fn what_is_not_known_is_asked_for_and_never_judged() {
    let nowhere = judged(&casement());
    assert!(nowhere.findings.is_empty());
    for word in ["Safety glazing may", "Lead", "putty", "find out"] {
        assert!(noted(&nowhere, word), "{word}: {:?}", nowhere.notes);
    }
    let england = judged(&at(Place { country: Some(Country::England), ..Place::default() }));
    assert!(england.findings.is_empty() && noted(&england, "does not say"));
}

#[test]
fn low_windows_high_up_want_a_guard() {
    let place = Place {
        country: Some(Country::England),
        opening: Some(Opening::Window),
        floor: Some(500.0),
        drop: Some(2600.0),
        ..Place::default()
    };
    let rule = "safety.guarding";
    assert_eq!(verdict(&judged(&at(place)), rule), Some(Verdict::Caution));
    assert_eq!(verdict(&judged(&at(Place { drop: Some(600.0), ..place })), rule), None);
    let high = Place { floor: Some(800.0), ..place };
    assert_eq!(verdict(&judged(&at(high)), rule), Some(Verdict::Clear));
    let states = Place { country: Some(Country::UnitedStates), ..place };
    assert_eq!(verdict(&judged(&at(states)), rule), Some(Verdict::Caution));
    let mut fixed = at(states);
    fixed.kind = Kind::Fixed;
    assert_eq!(verdict(&judged(&fixed), rule), None);
    let elsewhere = Place { country: Some(Country::Other), ..place };
    assert!(noted(&judged(&at(elsewhere)), "Guarding"));
}

// EPA: homes before 1978.
#[test]
fn notes_stand_where_they_apply() {
    let new = Place {
        country: Some(Country::UnitedStates),
        built: Some(1978),
        listed: Some(false),
        ..Place::default()
    };
    let duty = judged(&at(new));
    assert!(!noted(&duty, "Lead") && !noted(&duty, "consent"));
    assert!(noted(&judged(&at(Place { built: Some(1977), ..new })), "certified firm"));
    assert!(noted(&judged(&at(Place { listed: Some(true), ..new })), "consent comes before"));
}
