//! Sashes that are not flat: programs follow the face, and the proof judges by the wood as it lies.

use crate::paper;
use crate::support;
use crate::support::chance::Deck;
use crate::support::cuts::{along_cuts, chopped, with_z, word};
use crate::support::houses::{DECK, deck};
use crate::support::runs::{cases, for_all, told};
use crate::support::{machinable, shapes};
use fillister::finding::{Finding, Verdict};
use fillister::job::{self, Work, prove};
use fillister::prove::{Program, Proof};
use fillister::sash::Solid;
use fillister::survey::{Height, House, Limit, read};
use kurbo::{Point, Rect};
use proptest::prelude::*;
use std::cell::Cell;

fn worked(house: &House) -> Work {
    Work::new(&house.sashes[0], &house.workshop).unwrap()
}

/// Proves the programs of `work` against the sash of `house`.
fn proof(house: &House, work: &Work) -> Proof {
    let written = work.programs.written().unwrap();
    let programs: Vec<Program> = written
        .iter()
        .map(|(program, text)| Program {
            place: program.place,
            ..Program::new(&program.name, text)
        })
        .collect();
    prove(&house.sashes[0], &house.workshop, &programs).unwrap()
}

fn stops(work: &Work) -> Vec<String> {
    let stops = work.findings().into_iter().filter(|finding| finding.verdict == Verdict::Stop);
    stops.map(|f| format!("{}, {}: {} against {}", f.rule, f.place, f.measured, f.limit)).collect()
}

/// Heights of a face over a sash: `level`, and tilt, twist and cups that lift a corner or the middle of a
/// side by up to the heights in `by`, measured at the corners and in the middle of every side.
fn heights(outer: Rect, level: f64, by: [f64; 5]) -> Vec<Height> {
    let middle = outer.center();
    let of = |x: f64, y: f64| {
        let (u, v) = ((x - middle.x) / outer.width() * 2.0, (y - middle.y) / outer.height() * 2.0);
        let [tilt_x, tilt_y, twist, cup_x, cup_y] = by;
        let z = level + tilt_x * u + tilt_y * v + twist * u * v + cup_x * u * u + cup_y * v * v;
        Height { at: Point::new(x, y), z }
    };
    let xs = [outer.x0, middle.x, outer.x1];
    let ys = [outer.y0, middle.y, outer.y1];
    let all = xs.into_iter().flat_map(|x| ys.map(|y| (x, y)));
    all.filter(|at| *at != (middle.x, middle.y)).map(|(x, y)| of(x, y)).collect()
}

/// The house whose sash has that face.
fn warped(house: &House, surface: Vec<Height>) -> House {
    let mut house = house.clone();
    // Whether the bed takes up the twist is another matter.
    house.workshop.limits.twist_stop = Limit::set(-1000.0);
    house.sashes[0].surface = surface;
    house
}

/// How far each of the five may lift the face so that the flat cutter's rim stays near it: together they
/// slope along X and along Y by at most seven times this over half the shorter side, and keep half the tolerance.
fn bearable(house: &House, outer: Rect) -> f64 {
    let slope = 0.5 * house.workshop.cutting.tolerance / house.workshop.cutter.radius();
    0.9 * slope * outer.width().min(outer.height()) / 2.0 / 7.0
}

/// A sash of any shape.
fn house() -> impl Strategy<Value = House> {
    (machinable::house(), deck(DECK)).prop_map(|(mut house, deck)| {
        let mut deck = Deck::new(deck);
        if deck.chance(0.5) {
            shapes::reshape(&mut house.sashes[0], &mut deck);
        }
        house
    })
}

/// Up to 3 mm high or low all over; tilted, twisted and cupped as far as the cutter can follow.
fn faces() -> impl Strategy<Value = (House, f64, [f64; 5])> {
    (house(), -3.0..3.0_f64, prop::array::uniform5(-1.0..1.0_f64))
}

#[test]
fn bent_programs_are_proven_and_take_the_planned_wood() {
    let (seen, proven, long) = (Cell::new(0), Cell::new(0), Cell::new(0));
    for_all(3, &faces(), |(flat, level, shares)| {
        seen.set(seen.get() + 1);
        let Ok(straight) = Work::new(&flat.sashes[0], &flat.workshop) else { return Ok(()) };
        if straight.verdict() == Verdict::Stop {
            return Ok(());
        }
        let outer = straight.sash.outer;
        let most = bearable(&flat, outer);
        let house = warped(&flat, heights(outer, level, shares.map(|share| share * most)));
        let work = worked(&house);
        prop_assert!(work.verdict() != Verdict::Stop, "{:#?}", stops(&work));
        let bent = proof(&house, &work);
        // A finer tolerance is left to judge with, so a proof takes more work: refused is not wrong.
        if !bent.faults.is_empty()
            && bent.faults.iter().all(|fault| fault.finding.rule == "prove.effort")
        {
            long.set(long.get() + 1);
            return Ok(());
        }
        prop_assert!(bent.is_proven(), "{:#?}", told(&bent));
        // Sheared wood has the volume of straight wood (Cavalieri). Heights are written to four
        // decimals, which the whole floor may be off; walls as for a flat sash.
        let before = proof(&flat, &straight);
        let area: f64 = straight.rebate.go.iter().map(area).sum();
        let edges: f64 = straight.rebate.go.iter().map(sides).sum();
        let off = (bent.volumes.gone - before.volumes.gone).abs();
        prop_assert!(off <= 1e-4 * area + 5e-4 * edges, "{off} of {area} and {edges}");
        prop_assert!(bent.volumes.stay_gone <= 1e-4 * area + 5e-4 * edges);

        let worst = furthest(&house, &written(&straight), &written(&work));
        prop_assert!(worst <= within(&house), "{worst} mm off the plan");

        // Each for the other's sash is refused, where the two differ by more than the tolerance.
        if level.abs() > 5.0 * most + 0.4 {
            let missed = proof(&house, &straight);
            prop_assert!(!missed.is_proven(), "a flat program on a warped sash");
            let missed = proof(&flat, &work);
            prop_assert!(!missed.is_proven(), "a bent program on a flat sash");
        }
        proven.set(proven.get() + 1);
        Ok(())
    });
    let count = (seen.get(), proven.get(), long.get());
    eprintln!("seen, proven, too long to prove: {count:?}");
    assert!(proven.get() * 10 >= cases(3) * 8 && long.get() * 10 <= cases(3), "{count:?}");
}

fn area(solid: &Solid) -> f64 {
    solid.volume() / (solid.top - solid.bottom)
}

fn sides(solid: &Solid) -> f64 {
    let bounds = solid.region.outline.bounds();
    2.0 * (bounds.width() + bounds.height()) * (solid.top - solid.bottom)
}

/// A small sash with two lights and that face.
fn small(surface: &str) -> House {
    let text = format!(
        r#"
house = "Bench End"

[workshop]
cutter  = {{ diameter = 6, flutes = 2, cutting_length = 25 }}
cutting = {{ step_depth = 5.5, widen_step = 5.5, side_step = 0.9 }}

[[sash]]
id        = "bent"
kind      = "fixed"
thickness = 40
timber    = "scots-pine"
sight     = {{ width = 164, height = 140 }}
stiles    = {{ width = 34 }}
rails     = {{ top = 34, bottom = 38 }}
rebate    = {{ width = 4, depth = 10 }}
moulding  = {{ shape = "square" }}
finish    = {{ bed = 1, bead = 5 }}
unit      = {{ build_up = "3-4-3", cover = 5, spacer_height = 5 }}
bars_as   = "unit-per-light"
bars      = [{{ runs = "upright", centre = 80, width = 26 }}]
surface   = {surface}
"#
    );
    read(&text, "bent.toml").unwrap()
}

/// Corners at heights in mm, from the lower left on round.
fn at_corners([a, b, c, d]: [f64; 4]) -> String {
    format!("[[-30, -30, {a}], [194, -30, {b}], [194, 170, {c}], [-30, 170, {d}]]")
}

/// The programs that were written for `house`, or spoiled, on the sash of `house`.
fn rules(house: &House, texts: &[(String, String)]) -> Vec<&'static str> {
    let programs: Vec<Program> =
        texts.iter().map(|(name, text)| Program::new(name, text)).collect();
    let proof = prove(&house.sashes[0], &house.workshop, &programs).unwrap();
    let mut rules: Vec<_> = proof.findings().map(|finding| finding.rule).collect();
    rules.sort_unstable();
    rules.dedup();
    rules
}

fn texts(house: &House) -> Vec<(String, String)> {
    let work = worked(house);
    assert!(work.verdict() != Verdict::Stop, "{:#?}", stops(&work));
    written(&work)
}

fn written(work: &Work) -> Vec<(String, String)> {
    work.programs.programs.iter().map(|p| (p.name.clone(), p.text().unwrap())).collect()
}

const TWIST: [f64; 4] = [0.2, -0.2, 0.2, -0.2];

#[test]
fn programs_for_another_face_are_caught() {
    let house = small(&at_corners(TWIST));
    assert_eq!(rules(&house, &texts(&house)), [""; 0]);
    let mut others = vec![
        ("flat".to_owned(), "[]".to_owned()),
        ("wrong sign".to_owned(), at_corners(TWIST.map(|z| -z))),
        ("all of it higher".to_owned(), at_corners(TWIST.map(|z| z + 0.1))),
        ("all of it lower".to_owned(), at_corners(TWIST.map(|z| z - 0.1))),
    ];
    for corner in 0..4 {
        for off in [1.0, -1.0] {
            let mut heights = TWIST;
            heights[corner] += off;
            others.push((format!("corner {corner} off by {off}"), at_corners(heights)));
        }
    }
    for (what, face) in others {
        let mut other = small(&face);
        // A cutter follows a millimetre over so small a sash only with less exactness.
        other.workshop.cutting.tolerance = 0.1;
        let rules = rules(&house, &texts(&other));
        let cut = ["prove.gouge", "prove.leftover"];
        assert!(rules.iter().any(|rule| cut.contains(rule)), "{what}: {rules:?}");
    }
}

// The air run comes down to 2 mm above the face, wherever that lies. By hand: over a face 3 mm low that is at Z -1; over
// one 3 mm high, Z 2 is a millimetre in the wood.
#[test]
fn an_air_run_keeps_above_the_face_wherever_that_lies() {
    for (level, lowest) in [(-3.0, -1.0), (3.0, 5.0)] {
        let house = small(&at_corners([level; 4]));
        let mut texts = texts(&house);
        let low = |text: &str| text.lines().filter_map(|l| word(l, 'Z')).fold(f64::MAX, f64::min);
        assert!((low(&texts[0].1) - lowest).abs() < 1e-9);
        assert_eq!(rules(&house, &texts), [""; 0]);
        let lines = texts[0].1.lines().map(|line| match word(line, 'Z') {
            Some(z) if z < lowest + 1.0 => with_z(line, z - 3.0),
            _ => line.to_owned(),
        });
        texts[0].1 = lines.collect::<Vec<_>>().join("\n") + "\n";
        let found = rules(&house, &texts);
        assert!(found.contains(&"prove.head"), "{level}: {found:?}");
    }
}

// One depth word 0.2 mm lower or higher: every one of the last depth counts, and is told.
#[test]
fn a_depth_too_low_or_too_high_is_caught_on_a_warped_face() {
    let house = small(&at_corners(TWIST));
    let good = texts(&house);
    let deepen = good.iter().position(|(name, _)| name.contains("deepen")).unwrap();
    let lines: Vec<&str> = good[deepen].1.lines().collect();
    let deepest: Vec<usize> =
        (0..lines.len()).filter(|&i| word(lines[i], 'Z').is_some_and(|z| z < -15.5)).collect();
    assert!(deepest.len() > 20);
    for &at in deepest.iter().step_by(3) {
        let mut spoiled = good.clone();
        let z = word(lines[at], 'Z').unwrap() - 0.2;
        let mut lines: Vec<String> = lines.iter().map(|&line| line.to_owned()).collect();
        lines[at] = with_z(&lines[at], z);
        spoiled[deepen].1 = lines.join("\n") + "\n";
        let found = rules(&house, &spoiled);
        // Over an open light it does no harm.
        let light = lines[at].starts_with("G1 Z") || lines[at].contains('I');
        assert!(light || found.contains(&"prove.gouge"), "{}: {found:?}", lines[at]);
    }
    // All of the last depth 0.1 mm high.
    let mut spoiled = good.clone();
    let high = lines.iter().map(|line| match word(line, 'Z') {
        Some(z) if z < -15.5 => with_z(line, z + 0.1),
        _ => (*line).to_owned(),
    });
    spoiled[deepen].1 = high.collect::<Vec<_>>().join("\n") + "\n";
    assert_eq!(rules(&house, &spoiled), ["prove.leftover"]);
}

// The first pass at full depth: a slot too deep for one cut, in however short moves it comes. Each falls or
// rises a little with the face.
#[test]
fn too_deep_a_step_is_caught_on_a_warped_face_in_short_moves_too() {
    let house = small(&at_corners(TWIST));
    let good = texts(&house);
    let widen = good.iter().position(|(name, _)| name.contains("widen")).unwrap();
    let top = good[widen].1.lines().filter_map(|line| word(line, 'Z')).find(|z| *z < 0.0).unwrap();
    for length in [f64::INFINITY, 2.0, 0.7, 0.5] {
        let mut spoiled = good.clone();
        spoiled[widen].1 =
            chopped(&good[widen].1, length, |z| if z < 0.0 { z - 16.0 - top } else { z });
        let found = rules(&house, &spoiled);
        assert!(found.contains(&"prove.step"), "{length} mm at a time: {found:?}");
    }
}

// The same passes chopped up, none deeper: as good as before.
#[test]
fn short_moves_that_follow_the_face_are_no_fault() {
    let house = small(&at_corners(TWIST));
    let mut chopped_up = texts(&house);
    for (_, text) in &mut chopped_up {
        *text = chopped(text, 0.7, |z| z);
    }
    assert_eq!(rules(&house, &chopped_up), [""; 0]);
}

fn found(house: &House, rule: &str) -> Vec<Finding> {
    worked(house).findings().into_iter().filter(|finding| finding.rule == rule).collect()
}

// Closed form: a corner lifted by h over w by h mm of sash twists it by h/(w·h); a flat unit a by b mm then stands
// ±twist·a·b/4 off the platform that suits it best. A tilt takes nothing.
#[test]
fn twist_takes_the_bed_and_tilt_does_not() {
    let tilted = found(&small(&at_corners([0.0, 0.4, 0.6, 0.2])), "fit.twist");
    assert_eq!(tilted.len(), 2);
    for finding in &tilted {
        assert_eq!((finding.measured.value, finding.verdict), (1.0, Verdict::Clear));
    }
    for (lift, verdict) in [(8.0, Verdict::Caution), (40.0, Verdict::Stop)] {
        let house = small(&at_corners([0.0, 0.0, lift, 0.0]));
        let twisted = found(&house, "fit.twist");
        let units = worked(&house).fit.units;
        for (unit, finding) in units.iter().zip(&twisted) {
            let off = lift / (224.0 * 200.0) * unit.unit().width() * unit.unit().height() / 4.0;
            assert!(
                (finding.measured.value - (1.0 - off)).abs() <= 0.05 + 1e-9,
                "{finding:?} {off}"
            );
            assert_eq!(finding.verdict, verdict, "{finding:?}");
        }
    }
    assert!(found(&small("[]"), "fit.twist").is_empty());
}

// Five heights, one in the middle, tell no cup: the mean takes a fifth of it, four fifths are left (closed form).
#[test]
fn a_face_that_is_bent_otherwise_or_leans_too_much_gets_no_program() {
    for (middle, verdict) in [(0.3, Verdict::Clear), (1.0, Verdict::Caution), (2.0, Verdict::Stop)]
    {
        let corners = at_corners([0.0; 4]);
        let face = format!("{}, [82, 70, {middle}]]", corners.strip_suffix(']').unwrap());
        let house = small(&face);
        let [told] = &found(&house, "machine.surface")[..] else { panic!() };
        assert!((told.measured.value - 0.8 * middle).abs() < 1e-9, "{told:?}");
        assert_eq!(
            (told.verdict, told.place.to_string().as_str()),
            (verdict, "height 5 of the face")
        );
        assert_eq!(worked(&house).programs.programs.is_empty(), verdict == Verdict::Stop);
    }
    // A tilt lifts the rim of the cutter by its slope times 3 mm; half of 0.05 mm is the most.
    for (rise, verdict) in [(1.8, Verdict::Clear), (1.9, Verdict::Stop), (2.2, Verdict::Stop)] {
        let house = small(&at_corners([0.0, rise, rise, 0.0]));
        let [told] = &found(&house, "machine.lean")[..] else { panic!() };
        assert!((told.measured.value - rise / 224.0 * 3.0).abs() < 1e-9, "{told:?}");
        assert_eq!(told.verdict, verdict);
        // What leans too much for the planner is refused by the proof as well.
        let mut other = house.clone();
        other.workshop.cutting.tolerance = 0.1;
        let refused = rules(&house, &texts(&other)).contains(&"prove.lean");
        assert_eq!(refused, rise > 2.0, "{rise}");
    }
}

// Whatever the advice names is taken up, one by one, and lifts the stop.
#[test]
fn advice_for_a_leaning_face_holds_once_followed() {
    let lean = |house: &House| found(house, "machine.lean").remove(0);
    let (mut thinner, mut coarser) = (0, 0);
    for tenths in 1..60_u32 {
        let mut house = small(&at_corners([0.0, 0.0, 0.1 * f64::from(tenths), 0.0]));
        house.workshop.cutter.diameter = 12.0;
        let told = lean(&house);
        let number = |before: &str| -> Option<f64> {
            let advice = told.advised();
            let rest = advice.split(before).nth(1)?;
            rest.split(' ').next()?.parse().ok()
        };
        if let Some(diameter) = number("a cutter of at most ") {
            let mut other = house.clone();
            other.workshop.cutter.diameter = diameter;
            assert_eq!(lean(&other).verdict, Verdict::Clear, "{}", told.advised());
            thinner += 1;
        }
        if let Some(tolerance) = number("exact to ") {
            let mut other = house.clone();
            other.workshop.cutting.tolerance = tolerance;
            assert_eq!(lean(&other).verdict, Verdict::Clear, "{}", told.advised());
            coarser += 1;
        }
    }
    assert!(thinner > 5 && coarser > 5, "{thinner} {coarser}");
}

// The head says where to touch the face and what it reads there.
#[test]
fn a_program_tells_how_its_zero_is_set() {
    for (_, text) in texts(&small(&at_corners(TWIST))) {
        let text = text.replace(")\n(- ", " ");
        assert!(text.contains("Z where the heights of the face count from"), "{text}");
        assert!(text.contains("touch it at X -30 Y -30 - and Z has to read 0.2 -"), "{text}");
    }
    assert!(texts(&small("[]"))[0].1.replace(")\n(- ", " ").contains("Z on the face"));
}

/// The example's sash of that name, with heights in the middle of every side and at the corners.
fn of_the_example(id: &str, by: [f64; 5]) -> House {
    let mut house = read(support::EXAMPLE, "example").unwrap();
    house.sashes.retain(|sash| sash.id == id);
    let outer = worked(&house).sash.outer;
    house.sashes[0].surface = heights(outer, 0.4, by);
    house
}

/// How far a cut may stand off the flat plan under the face, as the planner promises: an eighth of the tolerance,
/// and the last digits written.
fn within(house: &House) -> f64 {
    house.workshop.cutting.tolerance / 8.0 + 1.5e-4
}

/// How far the bent programs stand off the depths of the flat ones under the face, mm, at the worst place.
fn furthest(house: &House, flat: &[(String, String)], bent: &[(String, String)]) -> f64 {
    let surface = house.sashes[0].warp().surface;
    let mut depths: Vec<f64> =
        flat.iter().flat_map(|(_, text)| along_cuts(text)).map(|(_, z)| z).collect();
    depths.sort_unstable_by(f64::total_cmp);
    depths.dedup();
    let off = |(at, z): (Point, f64)| {
        let depth = z - surface.height(at);
        let off = depths.iter().map(|flat| (depth - flat).abs()).fold(f64::INFINITY, f64::min);
        // In the air above the face, moves are level.
        if depth < 0.0 { off } else { 0.0 }
    };
    bent.iter().flat_map(|(_, text)| along_cuts(text)).map(off).fold(0.0, f64::max)
}

// Everywhere along its lines and arcs, by their exact places, the cutter stands at a depth of the flat plan.
#[test]
fn a_helix_keeps_the_planned_depth_under_the_face() {
    let house = of_the_example("hall-fanlight", [0.4, -0.2, 0.2, 0.2, -0.2]);
    let mut flat = house.clone();
    flat.sashes[0].surface.clear();
    let bent = texts(&house);
    let worst = furthest(&house, &texts(&flat), &bent);
    assert!(worst <= within(&house), "{worst} mm");
    let helix = |line: &&str| line.contains('I') && word(line, 'Z').is_some();
    let helices = bent.iter().flat_map(|(_, text)| text.lines()).filter(helix).count();
    assert!(helices > 20 && worst > 1e-3, "{helices} helices, {worst} mm");
    assert_eq!(rules(&house, &bent), [""; 0]);
}

// Each set-up bends where the sash lies, not where the machine's zero does.
#[test]
fn a_sash_larger_than_the_travel_is_followed_in_every_set_up() {
    let mut house = of_the_example("kitchen-1", [0.3, -0.3, 0.5, 0.0, 0.0]);
    house.workshop.machine.bed = [1200.0, 700.0];
    let work = worked(&house);
    assert!(work.programs.set_ups.len() > 1, "{:#?}", stops(&work));
    let bent = proof(&house, &work);
    assert!(bent.is_proven(), "{:#?}", told(&bent));
    // By their names alone they find their places.
    let written = work.programs.written().unwrap();
    let programs: Vec<Program> =
        written.iter().map(|(program, text)| Program::new(&program.name, text)).collect();
    assert!(prove(&house.sashes[0], &house.workshop, &programs).unwrap().is_proven());
    let mut other = house.clone();
    other.sashes[0].surface.iter_mut().for_each(|height| height.at.y += 300.0);
    assert!(!proof(&other, &work).is_proven());
}

// The corners stand 0.2 mm high and low by turns.
#[test]
fn the_workshop_sheet_tells_how_far_depths_vary() {
    let house = small(&at_corners(TWIST));
    let made = job::make(&house).unwrap();
    let pages = paper::pages(&made.files["bent/workshop.pdf"]);
    let words: Vec<String> =
        pages.into_iter().flat_map(|page| page.words).map(|word| word.text).collect();
    let words = words.join(" ");
    assert!(words.contains("The face of this sash is not flat"), "{words}");
    assert!(words.contains("up to 0.4 mm deeper at one place than at another"), "{words}");
}
