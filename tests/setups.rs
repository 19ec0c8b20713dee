//! Sashes larger than the machine's travel: cut in several set-ups, each program within the travel where
//! the sash then lies, and all together proven.
//!
//! Cases come from a fixed seed; `FILLISTER_CASES=2000` runs that many, `FILLISTER_SEED=1` others.

use crate::support::chance::Deck;
use crate::support::houses::{DECK, deck};
use crate::support::program_text;
use crate::support::runs::{cases, for_all, proven, told};
use crate::support::{machinable, shapes};
use fillister::finding::Verdict;
use fillister::geometry::Placement;
use fillister::job::{self, Work, prove_work};
use fillister::machine::SetUp;
use fillister::prove::{Program, Proof};
use fillister::survey::{Bar, BarsAs, House, Overhang, Runs, read_bytes};
use kurbo::Size;
use proptest::prelude::*;
use std::cell::Cell;

/// A machinable sash, of any shape and with any bars, and a machine too small for it.
pub(crate) fn house() -> impl Strategy<Value = House> {
    (machinable::house(), deck(DECK)).prop_map(|(mut house, deck)| {
        let mut deck = Deck::new(deck);
        let sash = &mut house.sashes[0];
        sash.sight = Size::new(deck.between(150.0, 300.0), deck.between(150.0, 300.0));
        sash.bars.retain(|bar| bar.centre + bar.width < 150.0);
        if deck.chance(0.5) {
            shapes::reshape(sash, &mut deck);
        }
        let cutter = &mut house.workshop.cutter;
        cutter.diameter = deck.between(4.0, 10.0);
        cutter.shank_diameter = cutter.shank_diameter.min(cutter.diameter);
        let thickest = cutter.diameter;
        house.workshop.machine.corner_cutter.take_if(|thinner| thinner.diameter >= thickest);
        // Finer steps over larger sashes cost the proof much time and show nothing new.
        let cutting = &mut house.workshop.cutting;
        cutting.tolerance = cutting.tolerance.max(0.05);
        cutting.side_step = cutting.side_step.max(0.5);
        cutting.step_depth = cutting.step_depth.max(4.0);
        cutting.widen_step = cutting.widen_step.max(3.0);
        let bed = &mut house.workshop.machine.bed;
        *bed = [0, 1].map(|_| deck.between(150.0, 380.0));
        house.workshop.machine.zero =
            deck.chance(0.3).then(|| [deck.between(0.0, 100.0), deck.between(0.0, 100.0)]);
        close_a_side(&mut house.workshop.machine.overhang, &mut deck);
        house
    })
}

/// Now and then a machine is closed on one side, with room for the widest members.
fn close_a_side(overhang: &mut Overhang, deck: &mut Deck) {
    *overhang = Overhang::default();
    if deck.chance(0.3) {
        let Overhang { left, right, front, back } = overhang;
        *[left, right, front, back][deck.index(4)] = Some(deck.between(100.0, 150.0));
    }
}

/// Where the sash is put down it has room past the travel, by plain arithmetic.
fn has_room(house: &House, work: &Work, set_up: &SetUp) -> Result<(), TestCaseError> {
    let machine = &house.workshop.machine;
    let Overhang { left, right, front, back } = machine.overhang;
    let outer = work.sash.outer;
    let spans = [([outer.x0, outer.x1], [left, right]), ([outer.y0, outer.y1], [front, back])];
    for (axis, (span, rooms)) in spans.into_iter().enumerate() {
        let at = set_up.place.origin[axis];
        let [low, high] =
            if set_up.place.turned { [at - span[1], at - span[0]] } else { span.map(|s| s - at) };
        // Without a zero the travel begins 5 mm before the window's corner.
        let begins = machine.zero.map_or(-5.0, |zero| -zero[axis]);
        let past = [begins - low, high - begins - machine.bed[axis]];
        for (past, room) in past.into_iter().zip(rooms) {
            prop_assert!(room.is_none_or(|room| past <= room + 1e-9), "{past} past, {room:?} room");
        }
    }
    Ok(())
}

/// Every program by itself, read by the tests' own reader: within the travel.
fn lies_within_the_travel(house: &House, work: &Work) -> Result<(), TestCaseError> {
    let machine = &house.workshop.machine;
    for program in &work.programs.programs {
        let extent = program_text::judge(&program.text().unwrap()).map_err(TestCaseError::fail)?;
        for ((from, to), axis) in [extent.x, extent.y].into_iter().zip([0, 1]) {
            prop_assert!(to - from <= machine.bed[axis], "{}: {from} to {to}", program.name);
            if let Some(zero) = machine.zero {
                let free = from >= -zero[axis] && to <= machine.bed[axis] - zero[axis];
                prop_assert!(free, "{}: {from} to {to}, zero at {zero:?}", program.name);
            } else {
                prop_assert!(from >= 0.0, "{}: {from}", program.name);
            }
        }
    }
    Ok(())
}

#[test]
fn every_set_up_is_proven_in_its_place_and_all_together_take_the_planned_wood() {
    let (larger, proven, several) = (Cell::new(0_u32), Cell::new(0_u32), Cell::new(0_u32));
    let turned = Cell::new(0_u32);
    for_all(40, &house(), |house| {
        let Ok(work) = Work::new(&house.sashes[0], &house.workshop) else { return Ok(()) };
        let mut roomy = house.clone();
        roomy.workshop.machine.bed = [5000.0, 5000.0];
        roomy.workshop.machine.zero = None;
        let whole = Work::new(&roomy.sashes[0], &roomy.workshop).unwrap();
        let [width, height] = house.workshop.machine.bed;
        let outer = work.sash.outer;
        if whole.verdict() == Verdict::Stop || (outer.width() <= width && outer.height() <= height)
        {
            return Ok(());
        }
        larger.set(larger.get() + 1);
        if work.verdict() == Verdict::Stop {
            let stops = work.findings().into_iter().filter(|f| f.verdict == Verdict::Stop);
            for stop in stops.filter(|_| std::env::var("FILLISTER_TELL").is_ok()) {
                eprintln!("{} {} {} {}", stop.rule, stop.place, stop.measured, stop.limit);
            }
            return Ok(());
        }
        let proof = prove_work(&work, &house.workshop).unwrap();
        prop_assert!(proof.is_proven(), "{:#?}", told(&proof));
        lies_within_the_travel(&house, &work)?;
        for set_up in &work.programs.set_ups {
            has_room(&house, &work, set_up)?;
            turned.set(turned.get() + u32::from(set_up.place.turned));
        }
        let in_one = prove_work(&whole, &roomy.workshop).unwrap();
        prop_assert!(in_one.is_proven(), "{:#?}", told(&in_one));
        let (a, b) = (proof.volumes, in_one.volumes);
        prop_assert!((a.gone - b.gone).abs() < 1e-4 * b.must_go, "{} {}", a.gone, b.gone);
        proven.set(proven.get() + 1);
        several.set(several.get() + u32::from(work.programs.set_ups.len() > 1));
        Ok(())
    });
    let count = (larger.get(), proven.get(), several.get());
    let turned = turned.get();
    eprintln!("larger than the travel, proven, in several set-ups: {count:?}; {turned} turned");
    assert!(turned * 20 >= cases(40), "{turned} turned");
    assert!(several.get() * 10 >= cases(40) * 4, "{count:?}");
    assert!(proven.get() * 10 >= larger.get() * 8, "{count:?}");
}

/// The same sash upright, on a machine that is closed at the back but for 100 mm.
fn tall_sash() -> House {
    let mut house = long_sash();
    let sight = &mut house.sashes[0].sight;
    *sight = Size::new(sight.height, sight.width);
    let machine = &mut house.workshop.machine;
    machine.bed = [1000.0, 1200.0];
    machine.overhang = Overhang { back: Some(100.0), ..Overhang::default() };
    house
}

// Two windows one above the other: of the lower one half the sash would reach into the back, so that it is
// turned; and it is the last, since the sash is turned once.
#[test]
fn before_a_closed_back_the_lower_half_is_cut_turned() {
    let house = tall_sash();
    let work = Work::new(&house.sashes[0], &house.workshop).unwrap();
    let [upper, lower] = &work.programs.set_ups[..] else {
        panic!("{:#?}", work.programs.findings)
    };
    assert!(!upper.place.turned && lower.place.turned);
    assert!(upper.window.y0 > lower.window.y0);
    for set_up in [upper, lower] {
        has_room(&house, &work, set_up).unwrap();
    }
    lies_within_the_travel(&house, &work).unwrap();
    let proof = prove_work(&work, &house.workshop).unwrap();
    assert!(proof.is_proven(), "{:#?}", told(&proof));
    let room = work.findings().into_iter().find(|finding| finding.rule == "machine.overhang");
    assert_eq!(room.unwrap().verdict, Verdict::Clear);
    // Not turned, the same programs cut the wrong wood.
    let written = work.programs.written().unwrap();
    let forgotten = written.iter().map(|(program, text)| {
        let place = Placement { turned: false, ..program.place };
        Program { place, ..Program::new(&program.name, text) }
    });
    let forgotten: Vec<Program> = forgotten.collect();
    assert!(!job::prove(&house.sashes[0], &house.workshop, &forgotten).unwrap().is_proven());
    // By their names alone they are placed as they were written.
    let named = written.iter().map(|(program, text)| Program::new(&program.name, text));
    let named: Vec<Program> = named.collect();
    assert!(job::prove(&house.sashes[0], &house.workshop, &named).unwrap().is_proven());
    let made = job::make(&house).unwrap();
    let id = &house.sashes[0].id;
    let drawing = String::from_utf8(made.files[&format!("{id}/setups.dxf")].clone()).unwrap();
    let lowest = lower.place.origin[1] - work.sash.outer.y1;
    assert!(drawing.contains(&format!("top edge, now the lower one, at Y {lowest} mm,")));
    let text = work.programs.programs.last().unwrap().text().unwrap();
    assert!(text.replace(")\n(- ", " ").contains("set-up 2 of 2 turned by 180 degrees"));
    // Closed in front as well, the sash cannot be put down.
    let mut shut = house.clone();
    shut.workshop.machine.overhang.front = Some(150.0);
    let work = Work::new(&shut.sashes[0], &shut.workshop).unwrap();
    let stop = work.findings().into_iter().find(|finding| finding.rule == "machine.overhang");
    let stop = stop.unwrap();
    assert_eq!(
        (stop.verdict, stop.place.to_string().as_str()),
        (Verdict::Stop, "back of the machine")
    );
    assert!(work.programs.programs.is_empty());
}

/// A plain sash of the example, 2000 by 900 mm over all, on a machine of 1200 by 1000.
fn long_sash() -> House {
    let text = include_bytes!("../examples/samphire-cottage.toml");
    let mut house = read_bytes(text, "example").unwrap();
    let mut sash = house.sashes.swap_remove(0);
    let m = &sash.members;
    sash.sight =
        Size::new(2000.0 - m.left.width - m.right.width, 900.0 - m.bottom.width - m.top.width);
    sash.bars.clear();
    sash.bars_as = BarsAs::OneUnit;
    sash.screws.clear();
    sash.metal.clear();
    house.workshop.machine.bed = [1200.0, 1000.0];
    house.workshop.machine.zero = None;
    house.sashes = vec![sash];
    house
}

// Two windows overlap by more than a cutter; a bar between them parts two units, each whole in one of them. What
// lies in the overlap was cut by both.
#[test]
fn a_unit_that_one_set_up_reaches_is_cut_there_alone() {
    let mut house = long_sash();
    let bars = read_bytes(include_bytes!("../examples/samphire-cottage.toml"), "example").unwrap();
    let like = bars.sashes.iter().find_map(|sash| sash.bars.first()).unwrap().clone();
    let sash = &mut house.sashes[0];
    sash.bars = vec![Bar { runs: Runs::Upright, centre: sash.sight.width / 2.0, ..like }];
    sash.bars_as = BarsAs::UnitPerLight;
    let work = Work::new(&house.sashes[0], &house.workshop).unwrap();
    assert_eq!(work.programs.set_ups.len(), 2, "{:#?}", work.programs.findings);
    let written = work.programs.written().unwrap();
    let deepened = |light: &str| -> Vec<usize> {
        let of = |(_, text): &(_, String)| text.matches(&format!("(- {light} - deepen")).count();
        written.iter().map(of).filter(|count| *count > 0).collect()
    };
    // In one program each.
    assert_eq!([deepened("light 1").len(), deepened("light 2").len()], [1, 1]);
    let proof = prove_work(&work, &house.workshop).unwrap();
    assert!(proof.is_proven(), "{:#?}", told(&proof));
}

// By hand: the first window ends at Y 85 of its programs. Beyond it wood 12 mm tall stands between the round ends of lanes
// once two layers are down to 13 mm, from 1 mm below the face on, and a step is 7.5: on its way to where the third begins the
// cutter goes back along its lane by its radius of 3 mm before it turns to the side.
#[test]
fn between_round_ends_at_the_edge_of_a_window_no_way_leads_to_the_side() {
    let text = r#"
house = "Tern Chapel"
[workshop]
cutter  = { diameter = 6, flutes = 2, cutting_length = 48 }
cutting = { step_depth = 7.5, side_step = 0.5, score_depth = 0, finish_allowance = 0 }
machine = { bed = [400, 165] }
limits  = { shows_stop = 20, front_stop = 0, beside_stop = 0 }
[[sash]]
id        = "east-3"
kind      = "fixed"
thickness = 40
sight     = { width = 250, height = 150 }
stiles    = { width = 40 }
rails     = { width = 40 }
rebate    = { width = 9, depth = 25 }
unit      = { build_up = "6-6-6", cover = 6, spacer_height = 6 }
finish    = { bed = 0, bead = 8 }
moulding  = { shape = "square" }
bars_as   = "one-unit"
bars      = [{ runs = "upright", centre = 80, width = 27, rebate = { width = 9, depth = 1 } }]
"#;
    let work = proven(text);
    let mut programs = work.programs.programs.iter();
    let deepen = programs.find(|program| program.name == "04-setup1-deepen.ngc");
    let deepen = deepen.unwrap().text().unwrap();
    let way = "Y85\n(- upright bar 1 - deepen to 19.00 mm deep)\nY82\nX73.5 Y79.0714\n";
    assert_eq!(deepen.matches(way).count(), 1, "{deepen}");
}

// Two units, one above the other, with a window's edge beside the bar between them: what it leaves of a corner beyond the bar
// is not come to from the light on this side, through wood that stays.
#[test]
fn no_corner_is_come_to_through_the_bar_between_two_units() {
    let text = r#"
house = "Tern Chapel"
[workshop]
cutter  = { diameter = 6 }
cutting = { side_step = 1 }
machine = { bed = [150, 150], corner_cutter = { diameter = 3, cutting_length = 45 } }
limits  = { front_stop = 0, beside_stop = 0, web_stop = 0, clearance_stop = 0, block_stop = 0 }
[[sash]]
id        = "east-4"
kind      = "top-hung"
thickness = 20
sight     = { width = 150, height = 190 }
stiles    = { width = 10 }
rails     = { width = 37 }
rebate    = { width = 1, depth = 1 }
bars_as   = "unit-per-light"
clearance = { top = 1, bottom = 1 }
blocks    = { height = 0 }
finish    = { bed = 0, bead = 5 }
unit      = { build_up = "4-6-4", cover = 4, over = 0 }
bars      = [{ runs = "cross", centre = 78, width = 10.5, rebate = { width = 1, depth = 14 } }]
[sash.member.top]
groove = { from_face = 4, width = 1, depth = 12 }
"#;
    let work = proven(text);
    assert_eq!(work.programs.set_ups.len(), 4);
    let corners =
        work.programs.programs.iter().filter(|program| program.name.ends_with("corners.ngc"));
    assert!(corners.count() > 1);
}

// Three windows of which two see the bar, the first of them all of it: there it is cut down, and not again where the other
// sees its right half.
#[test]
fn what_of_a_bar_is_gone_is_not_cut_again() {
    let text = r#"
house = "Tern Chapel"
[workshop]
cutter  = { diameter = 8 }
machine = { bed = [150, 286] }
limits  = { front_stop = 0, beside_stop = 0, bar_stop = 0 }
[[sash]]
id        = "east-5"
kind      = "fixed"
thickness = 24
sight     = { width = 185, height = 155 }
stiles    = { width = 47 }
rails     = { width = 58 }
rebate    = { width = 1, depth = 13 }
finish    = { bed = 0, bead = 8.6 }
unit      = { build_up = "4-6-4", cover = 9, over = 0 }
bars      = [{ runs = "upright", centre = 114, width = 23, rebate = { width = 4, depth = 17 } }]
[sash.member.left]
rebate = { width = 10, depth = 3 }
[sash.member.right]
rebate = { width = 24, depth = 23 }
"#;
    let work = proven(text);
    let [_, second, third] = &work.programs.set_ups[..] else { panic!("three set-ups") };
    assert!(second.window.x0 < 100.0 && third.window.x0 < 125.5 && second.window.x1 > 125.5);
    let written = work.programs.written().unwrap();
    let along = written.iter().filter(|(_, text)| text.contains("(- upright bar 1 - "));
    let along: Vec<&str> = along.map(|(program, _)| program.name.as_str()).collect();
    assert_eq!(along, ["08-setup2-lower-bars.ngc", "10-setup2-deepen.ngc"]);
}

// Closed on the right, the machine takes the left end of the sash turned and last. Were the places to the right of it cut from
// there on, the first would come before both of its neighbours, and its window would be crossed over in the last rounds.
#[test]
fn no_set_up_is_cut_before_both_of_its_neighbours() {
    let text = r#"
house = "Tern Chapel"
[workshop]
cutter  = { diameter = 10 }
machine = { bed = [150, 371], overhang = { right = 138 } }
cutting = { side_step = 1, finish_allowance = 0 }
limits  = { front_stop = 0, beside_stop = 0 }
[[sash]]
id        = "east-6"
kind      = "fixed"
thickness = 31
sight     = { width = 259, height = 228 }
clearance = { bottom = 2 }
unit      = { build_up = "4-6-4", cover = 10 }
[[sash.bars]]
runs      = "upright"
centre    = 59
width     = 25
thickness = 51
rebate    = { width = 2, depth = 1 }
[[sash.bars]]
runs      = "cross"
centre    = 61
width     = 34
thickness = 51
rebate    = { width = 14, depth = 8 }
[sash.member.left]
width  = 13
rebate = { width = 7, depth = 26 }
[sash.member.right]
width  = 70
groove = { from_face = 7, width = 3, depth = 3 }
[sash.member.bottom]
width  = 13
rebate = { width = 4, depth = 2 }
[sash.member.top]
width  = 46
rebate = { width = 6, depth = 23 }
"#;
    let work = proven(text);
    let places = work.programs.set_ups.iter();
    let places: Vec<(bool, f64)> = places.map(|at| (at.place.turned, at.window.x0)).collect();
    let [(false, first), (false, second), (true, third), (true, last)] = places[..] else {
        panic!("{places:?}")
    };
    assert!(first > second && second > last && last > third, "{places:?}");
}

// Two windows of at most 1189 mm cover 2000 mm and less; in Y one is enough.
#[test]
fn a_sash_of_two_metres_is_cut_in_two_set_ups() {
    let house = long_sash();
    let work = Work::new(&house.sashes[0], &house.workshop).unwrap();
    let programs = &work.programs;
    assert_eq!(programs.set_ups.len(), 2, "{:#?}", programs.findings);
    let [left, right] = &programs.set_ups[..] else { panic!() };
    assert_eq!(left.place.origin[1], right.place.origin[1]);
    assert!(right.place.origin[0] - left.place.origin[0] > 700.0);
    assert!(left.window.x1 - right.window.x0 >= house.workshop.cutter.diameter);
    let proof = prove_work(&work, &house.workshop).unwrap();
    assert!(proof.is_proven(), "{:#?}", told(&proof));
    lies_within_the_travel(&house, &work).unwrap();
    let first = &programs.programs[0];
    assert_eq!(first.name, "01-setup1-air-run.ngc");
    let [x, y] = left.place.origin;
    assert!(
        first
            .text()
            .unwrap()
            .replace(")\n(- ", " ")
            .contains(&format!("zero at X {x} Y {y} of the sash -"))
    );
    let bed: Vec<_> = programs.findings.iter().filter(|f| f.rule == "machine.bed").collect();
    assert!(
        bed.iter().all(|f| f.verdict == Verdict::Clear && f.advised().contains("in 2 set-ups"))
    );
}

// By hand: a rectangle is moved on by as much as its zero moves; two stops touch its lower edge, one an end.
#[test]
fn the_report_says_how_a_long_sash_is_moved_on_and_what_it_lies_against() {
    let house = long_sash();
    let work = Work::new(&house.sashes[0], &house.workshop).unwrap();
    let report = job::check(&house);
    let [first, second] = &report.sashes[0].set_ups[..] else { panic!("two set-ups") };
    let [from, to] =
        [&work.programs.set_ups[0], &work.programs.set_ups[1]].map(|at| at.place.origin);
    assert_eq!(first.moved, None);
    assert_eq!(second.moved, Some([from[0] - to[0], from[1] - to[1]]));
    for line in [first, second] {
        let sash = line.sash;
        let [left, right, beside] = &line.stops[..] else { panic!("three stops") };
        assert_eq!((left.top, right.top), (sash.bottom, sash.bottom));
        assert!(beside.right == sash.left || beside.left == sash.right);
        assert!((sash.right - sash.left - work.sash.outer.width()).abs() < 1e-9);
    }
}

/// The proof of the programs with the second set-up `off` by so much, in its head, in what the proof is told, or
/// in both.
fn proof_with(house: &House, work: &Work, off: [f64; 2], head: bool, told: bool) -> Proof {
    let written = work.programs.written().unwrap();
    let moved = written.into_iter().map(|(program, text)| {
        let Placement { origin: [x, y], turned } = program.place;
        if !program.name.contains("-setup2-") {
            return (&program.name, program.place, text);
        }
        let there = [x + off[0], y + off[1]];
        let zero = |[x, y]: [f64; 2]| format!("(- zero at X {x} Y {y} of the sash");
        assert!(text.contains(&zero([x, y])), "{text}");
        let text = if head { text.replace(&zero([x, y]), &zero(there)) } else { text };
        let origin = if told { there } else { [x, y] };
        (&program.name, Placement { origin, turned }, text)
    });
    let moved: Vec<_> = moved.collect();
    let programs = moved
        .iter()
        .map(|(name, place, text)| Program { place: *place, ..Program::new(name, text) });
    job::prove(&house.sashes[0], &house.workshop, &programs.collect::<Vec<_>>()).unwrap()
}

/// A head that puts the sash elsewhere than it was planned is judged where it says; one that says otherwise than
/// whoever drew the set-up is told.
#[test]
fn a_set_up_put_down_a_millimetre_off_is_caught() {
    let house = long_sash();
    let work = Work::new(&house.sashes[0], &house.workshop).unwrap();
    assert!(proof_with(&house, &work, [0.0, 0.0], true, true).is_proven());
    for off in [[1.0, 0.0], [-1.0, 0.0], [0.0, 1.0], [0.0, -1.0]] {
        // Wood that must stay is cut, or at the far end wood is left.
        let rules = ["prove.gouge", "prove.leftover"];
        let proof = proof_with(&house, &work, off, true, true);
        assert!(!proof.is_proven(), "{off:?}");
        let found = proof.findings().any(|finding| rules.contains(&finding.rule));
        assert!(found, "{off:?}: {:#?}", told(&proof));
        for (head, told) in [(true, false), (false, true)] {
            let proof = proof_with(&house, &work, off, head, told);
            assert!(proof.findings().any(|finding| finding.rule == "prove.head"), "{off:?}");
        }
    }
}

// By their heads, as someone would hand them back; without those by their names; and by neither they are refused.
#[test]
fn programs_are_placed_by_the_set_up_in_their_name() {
    let house = long_sash();
    let work = Work::new(&house.sashes[0], &house.workshop).unwrap();
    let prove = |cut: &str, headless: bool| {
        let names: Vec<String> =
            work.programs.programs.iter().map(|p| p.name.replace("-setup", cut)).collect();
        let written = work.programs.written().unwrap().into_iter();
        let texts = written.map(|(_, text)| {
            let lines = text.lines().filter(|line| !headless || !line.starts_with('('));
            lines.collect::<Vec<_>>().join("\n")
        });
        let texts: Vec<String> = texts.collect();
        let programs = texts.iter().zip(&names);
        let programs: Vec<Program> =
            programs.map(|(text, name)| Program::new(name, text)).collect();
        job::prove(&house.sashes[0], &house.workshop, &programs).unwrap()
    };
    assert!(prove("-place", false).is_proven());
    assert!(prove("-setup", true).is_proven());
    assert!(!prove("-place", true).is_proven());
}

// What the drawing and the folder hold: programs by set-up, each told on the sheet and drawn.
#[test]
fn the_folder_holds_the_programs_and_the_drawing_of_every_set_up() {
    let house = long_sash();
    let id = &house.sashes[0].id;
    let made = job::make(&house).unwrap();
    let work = Work::new(&house.sashes[0], &house.workshop).unwrap();
    for program in &work.programs.programs {
        assert!(
            made.files.contains_key(&format!("{id}/cuts/{}", program.name)),
            "{}",
            program.name
        );
    }
    let drawing = String::from_utf8(made.files[&format!("{id}/setups.dxf")].clone()).unwrap();
    for set_up in &work.programs.set_ups {
        let [x, y] = set_up.place.origin;
        let outer = work.sash.outer;
        let number = set_up.number;
        assert!(drawing.contains(&format!("set-up {number}")));
        let (left, right) = (outer.x0 - x, outer.x1 - x);
        let lies = format!(
            "lower edge at Y {} mm, left end at X {left} mm, right end at X {right} mm",
            outer.y0 - y
        );
        assert!(drawing.contains(&lies), "{lies}");
    }
}
