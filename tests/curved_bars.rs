//! Bars along arcs: lights of closed form, areas that add up, and surveys that cannot be.

use crate::support::runs::{cases, for_all};
use approx::assert_relative_eq;
use fillister::finding::Verdict;
use fillister::fit;
use fillister::geometry::Region;
use fillister::job::{Work, prove_work};
use fillister::passes::Cut;
use fillister::sash::{Part, Sash};
use fillister::sheets::kit::Voice;
use fillister::sheets::section::of_parts;
use fillister::survey::{self, House, Workshop};
use fillister::timber;
use kurbo::Shape;
use proptest::prelude::*;
use std::cell::Cell;
use std::f64::consts::{FRAC_PI_3, PI};

/// A fixed sash with that daylight and those bars.
fn text(sight: &str, bars: &str) -> String {
    format!(
        "house = \"Tern Chapel\"\n[[sash]]\nid = \"east-1\"\nkind = \"fixed\"\nthickness = 57\n\
         sight = {sight}\nstiles = {{ width = 70 }}\nrails = {{ width = 70 }}\n\
         rebate = {{ width = 8, depth = 15 }}\nbars_as = \"unit-per-light\"\n\
         unit = {{ build_up = \"4-6-4\", cover = 5, shape = \"shaped\" }}\n\
         clearance = {{ left = 2, right = 2, top = 2, bottom = 2 }}\nbars = [{bars}]\n"
    )
}

fn read(sight: &str, bars: &str) -> House {
    let text = text(sight, bars);
    survey::read(&text, "bars.toml").unwrap_or_else(|told| panic!("{told}\n{text}"))
}

fn sash(sight: &str, bars: &str) -> Sash {
    Sash::new(&read(sight, bars).sashes[0]).unwrap()
}

fn refused(sight: &str, bars: &str) -> String {
    match survey::read(&text(sight, bars), "bars.toml") {
        Ok(_) => panic!("not refused: {bars}"),
        Err(told) => told.to_string(),
    }
}

fn areas(sash: &Sash) -> Vec<f64> {
    sash.lights.iter().map(|light| light.outline.outline().area()).collect()
}

const W: f64 = 1200.0;
/// Foot to springing line.
const S: f64 = 900.0;

fn gothic() -> String {
    format!(
        "{{ width = {W}, height = {}, head = {{ shape = \"pointed\", radius = {W} }} }}",
        S + W * 0.75_f64.sqrt()
    )
}

// Closed form: an equilateral arch over W and one mullion in its middle, whose branches have the radius W
// about points on the springing line W/2 outside the springings. Every light is then bounded by circles
// about points on that line, 3W/2 apart, their radii W at the head and W ± b/2 along a branch of width b.
// A lancet is two half segments of such circles over the uprights' height; the lozenge is the difference
// of two circles between the apex and where they meet.
#[test]
fn a_mullion_that_branches_makes_two_lancets_and_a_lozenge() {
    let width = 5.0;
    let found = sash(
        &gothic(),
        &format!(
            "{{ runs = \"branching\", centre = {}, width = {width}, rebate = {{ width = 2, depth = 15 }}, moulding = {{ shape = \"square\" }} }}",
            W / 2.0
        ),
    );
    assert_eq!(found.bars.len(), 3);
    let found_areas = areas(&found);
    assert_eq!(found_areas.len(), 3, "{found_areas:?}");
    // Each light is bounded by the same circles moved by half the bar's width. A pointed figure over the
    // base from x = −a to a whose arcs have radius ρ about the springing line: ρ²φ − (ρ − a)h.
    let pointed = |radius: f64, a: f64| {
        let h = (radius.powi(2) - (radius - a).powi(2)).sqrt();
        radius.powi(2) * ((radius - a) / radius).acos() - (radius - a) * h
    };
    // The lancet's outer arc is the head's own, radius W about x = W; its inner one runs half a bar's
    // width inside the branch: radius W − b/2 about x = −W/2. Both meet where x² from either centre agree.
    let half = width / 2.0;
    let (r, q, far) = (W, W - half, 1.5 * W);
    // Distance of the meeting point from the head's centre along the springing line, by the law of cosines.
    let x = (far.powi(2) + r.powi(2) - q.powi(2)) / (2.0 * far);
    let segment = |radius: f64, to: f64| {
        let h = (radius.powi(2) - to.powi(2)).sqrt();
        (radius.powi(2) * (to / radius).acos() - to * h) / 2.0
    };
    let lancet = segment(r, x) + segment(q, far - x) + S * (W / 2.0 - half);
    let whole = pointed(W, W / 2.0);
    assert_relative_eq!(whole, W * W * (FRAC_PI_3 - 0.75_f64.sqrt() / 2.0), max_relative = 1e-12);
    // The lozenge: the outsides of the branches, radius W + b/2 about −W/2 and 3W/2, and the head.
    // Its left half lies between x = W/2 and the meeting of the head's left arc (centre W) with the
    // outside of the branch that leans to the left (centre −W/2).
    let p = W + half;
    let y = |radius: f64, centre: f64, x: f64| (radius.powi(2) - (x - centre).powi(2)).sqrt();
    let meet = W - (far.powi(2) + r.powi(2) - p.powi(2)) / (2.0 * far);
    // Simpson's rule over so many strips is exact to rounding here.
    let strips = 20_000_u32;
    let step = (W / 2.0 - meet) / f64::from(strips);
    let height = |x: f64| y(r, W, x) - y(p, -W / 2.0, x);
    let sum: f64 = (0..strips)
        .map(|index| {
            let left = meet + f64::from(index) * step;
            (height(left) + 4.0 * height(left + step / 2.0) + height(left + step)) * step / 6.0
        })
        .sum();
    let expected = [2.0 * sum, lancet, lancet];
    let mut by_size = found_areas.clone();
    by_size.sort_by(f64::total_cmp);
    let mut sorted = expected;
    sorted.sort_by(f64::total_cmp);
    for (found, expected) in by_size.iter().zip(sorted) {
        assert_relative_eq!(*found, expected, max_relative = 1e-7);
    }
    let names = [0, 1].map(|index: usize| found.bars[index].name());
    assert_eq!(names, ["upright bar 1", "curved bar 2"]);
}

// Closed form: half circles of radius 600 and 300 about one centre: the inner light is π(300 − b/2)²/2,
// the outer one π(600² − (300 + b/2)²)/2, and 10 mm of upright below both that the bars' ends run through.
#[test]
fn a_concentric_bar_leaves_half_a_disc_and_half_a_ring() {
    let bars = "{ runs = \"curved\", from = [300, 0], to = [900, 0], rise = 300, width = 30 }";
    let outline = "{ outline = [[0, 0], [1200, 0, 1]] }";
    let found = areas(&sash(outline, bars));
    let half_disc = |radius: f64| PI * radius * radius / 2.0;
    let mut found = found;
    found.sort_by(f64::total_cmp);
    assert_eq!(found.len(), 2);
    assert_relative_eq!(found[0], half_disc(285.0), max_relative = 1e-9);
    assert_relative_eq!(found[1], half_disc(600.0) - half_disc(315.0), max_relative = 1e-9);
}

// A hub and three radial bars: four lights and the hub's own; bars that end on the hub do not run into it.
#[test]
fn radial_bars_stand_on_a_hub() {
    let hub = "{ runs = \"curved\", from = [450, 0], to = [750, 0], rise = 150, width = 30 }";
    let radial = |angle: f64| {
        let (sin, cos) = angle.to_radians().sin_cos();
        let [from, to] =
            [150.0, 600.0].map(|r| format!("[{:.6}, {:.6}]", 600.0 + r * cos, r * sin));
        format!(
            "{{ runs = \"slanting\", from = {from}, to = {to}, width = 24, rebate = {{ width = 8, depth = 15 }} }}"
        )
    };
    let bars = format!("{hub}, {}", [45.0, 90.0, 135.0].map(radial).join(", "));
    let found = sash("{ outline = [[0, 0], [1200, 0, 1]] }", &bars);
    assert_eq!(found.lights.len(), 5);
    let mut all = areas(&found);
    all.sort_by(f64::total_cmp);
    assert_relative_eq!(all[0], PI * 135.0 * 135.0 / 2.0, max_relative = 1e-6);
    // By symmetry the outer two are alike, and the inner two.
    assert_relative_eq!(all[1], all[2], max_relative = 1e-6);
    assert_relative_eq!(all[3], all[4], max_relative = 1e-6);
}

// The whole way for a mullion that branches: its arcs are followed as arcs, and each program proven.
#[test]
fn tracery_is_cut_and_proven_with_one_unit_and_with_three() {
    let sight = "{ width = 560, height = 900, head = { shape = \"pointed\", radius = 560 } }";
    let bars = "{ runs = \"branching\", centre = 280, width = 40 }";
    for (words, units) in [("unit-per-light", 3), ("one-unit", 1)] {
        let text = text(sight, bars).replace("unit-per-light", words);
        let house = survey::read(&text, "bars.toml").unwrap();
        let work = Work::new(&house.sashes[0], &house.workshop).unwrap();
        assert_eq!(work.fit.units.len(), units);
        let stops = work.findings().into_iter().filter(|found| found.verdict == Verdict::Stop);
        assert_eq!(stops.count(), 0, "{words}");
        let proof = prove_work(&work, &house.workshop).unwrap();
        assert!(proof.is_proven(), "{words}");
        let text: String =
            work.programs.programs.iter().map(|program| program.text().unwrap()).collect();
        assert!(
            text.lines().filter(|line| line.contains("G2") || line.contains("G3")).count() > 20
        );
        let told = work.findings().iter().filter(|found| found.rule == "fit.internal-bar").count();
        assert_eq!(told, if units == 1 { 3 } else { 0 });
    }
}

// The outer light wraps round the bar, and the middle of its bounds lies in the inner one: the cutter comes
// down in each on its own side of the bar.
#[test]
fn a_light_that_wraps_round_a_bar_is_entered_from_its_own_side() {
    let bars = "{ runs = \"curved\", from = [90, 0], to = [610, 0], rise = 260, width = 40 }";
    let house = read("{ width = 700, height = 400 }", bars);
    let work = Work::new(&house.sashes[0], &house.workshop).unwrap();
    assert_eq!(work.fit.units.len(), 2);
    let stops = work.findings().into_iter().filter(|found| found.verdict == Verdict::Stop);
    assert_eq!(stops.count(), 0);
    assert!(prove_work(&work, &house.workshop).unwrap().is_proven());
    // The inner one lies within the bounds of the outer, and is none of its own.
    for pass in &work.plan.passes {
        let Cut::Ring(ring) = &pass.cut else { panic!("there is no bar to cut down") };
        let served = work.sash.lights.iter().filter(|light| ring.serves(light));
        let served: Vec<&str> = served.map(|light| light.name.as_str()).collect();
        assert_eq!(served, [pass.place.as_str()]);
    }
}

// By hand: a rebate on each side of a curved bar of 40 mm, 5 of cover and 2 of clearance, less than the
// old 8: a web of 40 − 16.
#[test]
fn the_web_of_a_curved_bar_counts_both_its_rebates() {
    let bars = "{ runs = \"curved\", from = [0, 500], to = [800, 500], rise = 150, width = 40 }";
    for (cover, web) in [(5, 24.0), (10, 40.0 - 2.0 * 12.0)] {
        let text = text("{ width = 800, height = 1000 }", bars)
            .replace("cover = 5", &format!("cover = {cover}"));
        let house = survey::read(&text, "bars.toml").unwrap();
        let sash = Sash::new(&house.sashes[0]).unwrap();
        let fitted = fit::fit(&sash, &Workshop::default()).unwrap();
        assert_eq!(fitted.units.len(), 2);
        let left = timber::judge(&sash, &fitted, &house.workshop.limits);
        assert_relative_eq!(left.bars[0].web.unwrap(), web, epsilon = 1e-6);
    }
}

#[test]
fn a_bar_that_cannot_be_is_told_with_its_place() {
    let square = "{ width = 800, height = 1000 }";
    let bar = |rest: &str| format!("{{ width = 40, {rest} }}");
    let cases = [
        (
            "runs = \"curved\", from = [0, 1500], to = [800, 1500], rise = 100",
            "stands in the daylight",
        ),
        (
            "runs = \"curved\", from = [200, 400], to = [800, 500], rise = 100",
            "begins on a sight edge",
        ),
        ("runs = \"curved\", from = [0, 500], to = [800, 500], rise = 401", "at most 400"),
        (
            "runs = \"curved\", from = [0, 500], to = [800, 500], rise = 300, bulges = \"left\"",
            "up or down",
        ),
        ("runs = \"curved\", from = [0, 500], to = [800, 500]", "rise"),
        ("runs = \"slanting\", from = [0, 500]", "to"),
        ("runs = \"upright\"", "centre"),
        ("runs = \"upright\", centre = 400, rise = 20", "no `rise`"),
        ("runs = \"branching\", centre = 400", "pointed head"),
        ("runs = \"ring\", centre = 400", "two curved bars"),
        ("runs = \"elliptical\", from = [0, 500], to = [800, 500]", "several curved bars"),
        ("runs = \"curved\", from = [0, 500], to = [40, 500], rise = 20", "radius of at least"),
        // Its crown touches the top of the daylight.
        ("runs = \"curved\", from = [0, 700], to = [800, 700], rise = 278", "of light beside it"),
        // Half a circle as wide as the daylight springs along the jambs; a little less comes back to them.
        ("runs = \"curved\", from = [0, 300], to = [800, 300], rise = 400", "leaves the daylight"),
        ("runs = \"curved\", from = [0, 300], to = [800, 300], rise = 380", "leaves the daylight"),
        // Its centre line is gone behind the jamb, but the flank inside, of radius 391, comes no nearer than 9 mm.
        ("runs = \"curved\", from = [0, 300], to = [800, 300], rise = 315", "leaves the daylight"),
        // Its flank leaves 20 × 800/190 = 84 mm later, where two widths are 80.
        ("runs = \"slanting\", from = [0, 800], to = [190, 0]", "leaves the daylight"),
        // It runs along the sill.
        ("runs = \"slanting\", from = [0, 2], to = [800, 2]", "of light beside it"),
    ];
    for (rest, expected) in cases {
        let told = refused(square, &bar(rest));
        assert!(told.contains(expected), "{rest}\n{told}");
        assert!(told.contains("bars.toml:"), "{told}");
    }
    // 76 mm later.
    assert_eq!(
        sash(square, &bar("runs = \"slanting\", from = [0, 800], to = [210, 0]")).lights.len(),
        2
    );
    // Two halves of a ring hold each other, and nothing them.
    let ring = "{ runs = \"curved\", from = [300, 500], to = [500, 500], rise = 100, width = 30 }, \
                { runs = \"curved\", from = [300, 500], to = [500, 500], rise = 100, bulges = \"down\", width = 30 }";
    assert!(refused(square, ring).contains("nothing them"));
    // Without a rise it is straight.
    let straight =
        sash(square, &bar("runs = \"curved\", from = [0, 500], to = [800, 500], rise = 0"));
    assert_eq!(straight.bars[0].name(), "cross bar 1");
    assert_relative_eq!(areas(&straight).iter().sum::<f64>(), 800.0 * 960.0, max_relative = 1e-9);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    // Lights and bars are the daylight: strips along arcs never lose or double a place.
    #[test]
    fn lights_and_bars_are_the_daylight(
        ends in (50.0..750.0_f64, 50.0..750.0_f64), sides in (150.0..850.0_f64, 150.0..850.0_f64),
        rises in (0.0..0.9_f64, 0.0..0.45_f64), widths in (18.0..60.0_f64, 18.0..60.0_f64),
        ways in any::<(bool, bool)>(),
    ) {
        let way = |first: bool, words: [&'static str; 2]| if first { words[0] } else { words[1] };
        // One from rail to rail, one from stile to stile; half a chord is half of 1000 or 800 at least.
        let bars = format!(
            "{{ runs = \"curved\", from = [{:.3}, 0], to = [{:.3}, 1000], rise = {:.3}, bulges = \"{}\", width = {:.3} }}, \
             {{ runs = \"curved\", from = [0, {:.3}], to = [800, {:.3}], rise = {:.3}, bulges = \"{}\", width = {:.3} }}",
            ends.0, ends.1, 500.0 * rises.0, way(ways.0, ["left", "right"]), widths.0,
            sides.0, sides.1, 400.0 * rises.1, way(ways.1, ["up", "down"]), widths.1
        );
        let text = text("{ width = 800, height = 1000 }", &bars);
        // Some bulge out of the daylight, or leave no light beside them: told, and not for here.
        let Ok(house) = survey::read(&text, "bars.toml") else { return Ok(()) };
        let sash = Sash::new(&house.sashes[0]).unwrap();
        let lights: f64 = areas(&sash).iter().sum();
        let daylight = Region::solid(sash.outline.outline().clone());
        let strips: Vec<Region> =
            sash.bars.iter().map(|bar| Region::solid(bar.strip(bar.measured.width).unwrap())).collect();
        let area = |regions: Vec<Region>| regions.iter().map(Region::area).sum::<f64>();
        let own: Vec<f64> = strips.iter().map(|strip| area(daylight.intersection(strip).unwrap())).collect();
        let both: f64 = daylight.intersection(&strips[0]).unwrap().iter()
            .map(|region| area(region.intersection(&strips[1]).unwrap())).sum();
        prop_assert!((lights + own[0] + own[1] - both - 800_000.0).abs() < 0.05);
    }
}

// The upright of a branching bar is shorter than the branches over it, so no side of a light is named
// after it. With a unit in each light the glazing face of every bar stands all the same.
#[test]
fn every_bar_between_units_is_drawn_with_its_web() {
    let sight = "{ width = 700, height = 1000, head = { shape = \"pointed\", radius = 700 } }";
    let bars = "{ runs = \"branching\", centre = 350, width = 44 }";
    let house = survey::read(&text(sight, bars), "bars.toml").unwrap();
    let work = Work::new(&house.sashes[0], &house.workshop).unwrap();
    assert_eq!(work.fit.units.len(), 3);
    let drawn = of_parts(&work.sash, &work.fit, &work.timber, Voice::plain()).unwrap();
    let bars: Vec<_> = drawn.iter().filter(|(part, _)| matches!(part, Part::Bar(_))).collect();
    assert_eq!(bars.len(), 3);
    for (part, section) in bars {
        let top = section.after.iter().map(|path| path.bounding_box().y1).fold(-1e9, f64::max);
        assert!(top.abs() < 1e-6, "{part:?}: {top}");
    }
}

/// Two curved bars of 40 mm, half a circle each, and straight ones from it to the sight edges of 800 by 1000 mm: to
/// the left, to the right, downwards and upwards.
fn ring(middle: (f64, f64), radius: f64, held: [bool; 4]) -> String {
    let (x, y) = middle;
    let half = |way: &str| {
        format!(
            "{{ runs = \"curved\", from = [{x:.6}, {:.6}], to = [{x:.6}, {:.6}], rise = {radius}, bulges = \"{way}\", width = 40 }}",
            y - radius,
            y + radius
        )
    };
    let spoke = |from: (f64, f64), to: (f64, f64)| {
        format!(
            "{{ runs = \"slanting\", from = [{:.6}, {:.6}], to = [{:.6}, {:.6}], width = 40 }}",
            from.0, from.1, to.0, to.1
        )
    };
    let spokes = [
        spoke((0.0, y), (x - radius, y)),
        spoke((x + radius, y), (800.0, y)),
        spoke((x, 0.0), (x, y - radius)),
        spoke((x, y + radius), (x, 1000.0)),
    ];
    let spokes = spokes.into_iter().zip(held).filter_map(|(spoke, held)| held.then_some(spoke));
    [half("left"), half("right")].into_iter().chain(spokes).collect::<Vec<_>>().join(", ")
}

/// Whether its programs are proven; `None` where it cannot be laid out, and must not be cut.
fn proven(house: &House) -> Option<bool> {
    let work = Work::new(&house.sashes[0], &house.workshop).ok()?;
    let stops = work.findings().iter().filter(|found| found.verdict == Verdict::Stop).count();
    (stops == 0).then(|| prove_work(&work, &house.workshop).unwrap().is_proven())
}

const SQUARE: &str = "{ width = 800, height = 1000 }";

// Closed form: within a ring of radius r and width b lies a light of π(r − b/2)².
#[test]
fn two_half_circles_are_a_ring() {
    let held = any::<[bool; 4]>().prop_filter("nothing holds it", |held| held.contains(&true));
    let drawn = (330.0..470.0_f64, 330.0..670.0_f64, 90.0..210.0_f64, held, any::<bool>());
    let cut = Cell::new(0);
    for_all(8, &drawn, |(x, y, radius, held, one)| {
        let words = if one { "one-unit" } else { "unit-per-light" };
        let text = text(SQUARE, &ring((x, y), radius, held)).replace("unit-per-light", words);
        let house =
            survey::read(&text, "bars.toml").unwrap_or_else(|told| panic!("{told}\n{text}"));
        let sash = Sash::new(&house.sashes[0]).unwrap();
        let spokes = held.iter().filter(|held| **held).count();
        prop_assert_eq!(sash.lights.len(), 1 + spokes);
        let (disc, found) = (PI * (radius - 20.0).powi(2), areas(&sash));
        prop_assert!(found.iter().any(|area| (area - disc).abs() < 0.02), "{found:?} {disc}");
        let proven = proven(&house);
        prop_assert_ne!(proven, Some(false), "{}", text);
        cut.set(cut.get() + u32::from(proven.is_some()));
        Ok(())
    });
    eprintln!("{} of {} rings are cut, and proven", cut.get(), cases(8));
    assert!(2 * cut.get() > cases(8), "{}", cut.get());
}

// Bars that each begin where the one before ends, and run on as it ran, are an arch of three centres, as one draws
// an ellipse.
#[test]
fn curved_bars_in_a_row_are_an_arch() {
    let drawn = (150.0..500.0_f64, 420.0..900.0_f64, 0.3..0.9_f64, 0.3..0.8_f64).prop_filter_map(
        "it does not end on the jambs, below its crown",
        |(y, big, share, turn)| {
            // The middle arc turns by `turn` to either side; the outer ones have their centres on its radii.
            let small = share * big;
            let joint = (400.0 - big * turn.sin(), y + big * turn.cos());
            let centre = (400.0 - (big - small) * turn.sin(), y + (big - small) * turn.cos());
            let spring = (0.0, centre.1 + (small * small - centre.0 * centre.0).sqrt());
            // Not steeper than 75° at the jamb: from 76° on it is told as too flat.
            let stands = joint.0 > 30.0
                && centre.0.abs() < 0.965 * small
                && spring.1 > 60.0
                && spring.1 < joint.1 - 5.0
                && y + big < 960.0;
            stands.then_some((big, small, joint, spring))
        },
    );
    let cut = Cell::new(0);
    for_all(8, &(drawn, any::<bool>()), |((big, small, joint, spring), one)| {
        let rise = |radius: f64, a: (f64, f64), b: (f64, f64)| {
            let half = f64::hypot(a.0 - b.0, a.1 - b.1) / 2.0;
            radius - (radius * radius - half * half).sqrt()
        };
        let across = |at: (f64, f64)| (800.0 - at.0, at.1);
        let arc = |radius: f64, a: (f64, f64), b: (f64, f64)| {
            format!(
                "{{ runs = \"curved\", from = [{}, {}], to = [{}, {}], rise = {}, bulges = \"up\", width = 40 }}",
                a.0,
                a.1,
                b.0,
                b.1,
                rise(radius, a, b)
            )
        };
        let (last, end) = (across(joint), across(spring));
        let bars =
            [arc(small, spring, joint), arc(big, joint, last), arc(small, last, end)].join(", ");
        let words = if one { "one-unit" } else { "unit-per-light" };
        let text = text(SQUARE, &bars).replace("unit-per-light", words);
        // Some meet the jamb too flat: told.
        let Ok(house) = survey::read(&text, "bars.toml") else { return Ok(()) };
        let sash = Sash::new(&house.sashes[0]).unwrap();
        prop_assert_eq!(sash.lights.len(), 2);
        let daylight = Region::solid(sash.outline.outline().clone());
        let strips = sash.bars.iter().flat_map(|bar| {
            let strip = Region::solid(bar.strip(40.0).unwrap());
            daylight.intersection(&strip).unwrap()
        });
        let strips: f64 = strips.map(|region| region.area()).sum();
        let all = areas(&sash).iter().sum::<f64>() + strips;
        prop_assert!((all - 800_000.0).abs() < 0.5, "{all}");
        let proven = proven(&house);
        prop_assert_ne!(proven, Some(false), "{}", text);
        cut.set(cut.get() + u32::from(proven.is_some()));
        Ok(())
    });
    eprintln!("{} of {} arches are cut, and proven", cut.get(), cases(8));
    assert!(cut.get() > 0);
}
