//! Random houses that a survey could hold, leaning towards the nearly degenerate.
//!
//! Every sash is *plannable*: the new rebate stays inside every member and above the room face, a bar
//! that must carry two units has a web left, and the whole fits a bed of 1200 by 1200 mm. Whether the
//! wood that is left is enough is another matter: many of these sashes earn a stop.

use super::chance::Deck;
use fillister::geometry::{PerSide, Side};
use fillister::language::Language;
use fillister::survey::{
    Allowances, Around, Bar, BarsAs, Bearing, CLASSES, Candidates, Clamp, Conditions, CordGroove,
    Cords, Country, Cutter, Cutting, Direction, Finish, Gas, GuidedBy, HeldBy, Hinges, Holder,
    Horns, House, Kind, Limit, Limits, Machine, Make, Measure, Member, Metal, Moulding, Near,
    Nearby, Offered, OldGlazing, Opening, Overhang, Paper, Place, Printer, ProgramsAs, Router,
    Runs, Sash, Screw, ScrewFrom, Site, Spacer, TemplateAs, Tenon, Terrain, Timber, Treatment,
    Unit, UnitShape, WaterOut, Weather, WeightBox, Wind, Workshop, species,
};
use kurbo::{Point, Size};
use proptest::prelude::*;

/// Enough numbers for the largest sash.
pub(crate) const DECK: usize = 400;

/// A plannable sash with the id `sash-1`.
pub(crate) fn sash() -> impl Strategy<Value = Sash> {
    deck(DECK).prop_map(|deck| draw_sash(&mut Deck::new(deck), 1))
}

/// A house of one to three plannable sashes in a workshop of its own.
pub(crate) fn house() -> impl Strategy<Value = House> {
    deck(3 * DECK + 100).prop_map(|deck| draw_house(&mut Deck::new(deck)))
}

pub(crate) fn deck(size: usize) -> impl Strategy<Value = Vec<f64>> {
    prop::collection::vec(0.0..1.0_f64, size)
}

/// The house of a deck.
pub(crate) fn draw_house(deck: &mut Deck) -> House {
    let names = [
        "Samphire Cottage",
        "Σπίτι στη θάλασσα",
        "Дом у реки",
        "Maison « d'été »",
        "The \"Old\" \\ Forge",
        "x",
    ];
    let name = (*deck.pick(&names)).to_owned();
    let workshop = draw_workshop(deck);
    let count = 1 + deck.index(3);
    let sashes = (1..=count).map(|number| draw_sash(deck, number)).collect();
    House { name, workshop, sashes, doubts: Vec::new() }
}

/// Cautions that came after the houses were first drawn: a draw for them would change every house.
const NOT_DRAWN: [&str; 3] = ["rebate_caution", "drained_gap_caution", "putty_caution"];

/// The workshop of a deck.
pub(crate) fn draw_workshop(deck: &mut Deck) -> Workshop {
    let mut limits = Limits::default();
    for &name in Limits::NAMES.iter().filter(|name| !NOT_DRAWN.contains(name)) {
        if deck.chance(0.1) {
            // Cautions are left alone: one set beside its stop must not come after it.
            let value = match Limits::measure(name) {
                Measure::Millimetres => deck.between(0.0, 30.0),
                Measure::Share => deck.between(0.0, 1.0),
                Measure::Ratio => deck.between(50.0, 400.0),
                Measure::Size => deck.between(500.0, 3000.0),
                Measure::Kilograms => deck.between(5.0, 50.0),
            };
            if name.ends_with("_stop") {
                *limits.by_name(name).unwrap() = Limit::set(value);
            }
        }
    }
    let direction = if deck.chance(0.2) { Direction::With } else { Direction::Against };
    let mut workshop = Workshop {
        cutter: Cutter {
            diameter: deck.between(4.0, 20.0),
            flutes: 1 + u32::from(deck.chance(0.8)),
            cutting_length: deck.between(15.0, 60.0),
            shank_diameter: deck.between(4.0, 16.0),
            holder: deck.chance(0.3).then(|| Holder {
                diameter: deck.between(20.0, 60.0),
                stick_out: deck.between(60.0, 90.0),
            }),
        },
        router: Router {
            base_diameter: deck.between(80.0, 200.0),
            guide_bush: deck.between(12.0, 40.0),
            guided_by: if deck.chance(0.3) { GuidedBy::Straightedge } else { GuidedBy::Bush },
            plate: deck.between(6.0, 20.0),
            bearing: deck.chance(0.3).then(|| Bearing {
                diameter: deck.between(5.0, 30.0),
                height: deck.between(3.0, 10.0),
            }),
        },
        printer: Printer {
            paper: if deck.chance(0.3) { Paper::Roll } else { Paper::Letter },
            roll_width: deck.between(300.0, 1000.0),
            margin: deck.between(3.0, 20.0),
            overlap: deck.between(5.0, 30.0),
            template: TemplateAs::Corners,
            inches: false,
            language: Language::british(),
        },
        machine: Machine {
            bed: [deck.between(1200.0, 2500.0), deck.between(1200.0, 2500.0)],
            clear_height: Some(deck.between(2.0, 30.0)),
            max_feed: deck.between(300.0, 6000.0),
            max_plunge: deck.between(50.0, 1000.0),
            rapid: deck.between(500.0, 10_000.0),
            spindle: deck.between(8000.0, 24_000.0),
            spindle_slowest: 8000.0,
            spindle_wait: 3.0,
            zero: None,
            spoil_board: 0.0,
            programs: ProgramsAs::Stage,
            corner_cutter: None,
            overhang: overhang(deck),
        },
        cutting: Cutting {
            step_depth: deck.between(1.0, 8.0),
            widen_step: deck.between(0.5, 5.0),
            side_step: deck.between(0.1, 0.9),
            score_depth: deck.between(0.0, 2.0),
            finish_allowance: deck.between(0.0, 1.0),
            chip_load: deck.between(0.02, 0.2),
            direction,
            tolerance: deck.between(0.02, 0.2),
            zero_error: deck.between(0.0, 1.0),
        },
        allowances: draw_allowances(deck),
        candidates: draw_candidates(deck),
        limits,
    };
    // No draws of their own, which would change every house.
    let printer = &mut workshop.printer;
    if printer.roll_width > 650.0 {
        printer.template = TemplateAs::Whole;
    }
    printer.inches = printer.margin > 10.0;
    if printer.overlap > 20.0 {
        printer.language = Language::american();
    }
    // Some board or other, without a draw of its own.
    let board = workshop.machine.clear_height.map_or(0.0, f64::floor);
    workshop.machine.spoil_board = board;
    // And a quarter of the workshops likes all stages in one program.
    if board % 4.0 == 0.0 {
        workshop.machine.programs = ProgramsAs::One;
    }
    // Some have a cutter half as thick for the corners, or two thirds.
    if board % 3.0 == 0.0 {
        let (own, part) = (&workshop.cutter, if board % 2.0 == 0.0 { 2.0 } else { 1.5 });
        let diameter = own.diameter / part;
        let thinner = Cutter { diameter, shank_diameter: diameter, ..own.clone() };
        workshop.machine.corner_cutter = Some(thinner);
    }
    workshop
}

/// What the members and bars must leave room for.
struct Cut {
    /// Cover and clearance, by side.
    reach: PerSide<f64>,
    /// Glazing face to the new platform.
    depth: f64,
}

/// The sash of a deck, with the id `sash-{number}`.
pub(crate) fn draw_sash(deck: &mut Deck, number: usize) -> Sash {
    draw_sash_within(deck, number, (150.0, 900.0))
}

/// The sash of a deck, its daylight between two lengths each way.
pub(crate) fn draw_sash_within(deck: &mut Deck, number: usize, sight: (f64, f64)) -> Sash {
    let kinds =
        [Kind::Fixed, Kind::SideHung, Kind::TopHung, Kind::SlidingUpper, Kind::SlidingLower];
    let kind = *deck.pick(&kinds);
    let per_light = deck.chance(0.4);
    let unit = draw_unit(deck, per_light);
    let clearance = PerSide {
        left: deck.between(1.0, 4.0),
        right: deck.between(1.0, 4.0),
        bottom: deck.between(1.0, 6.0),
        top: deck.between(1.0, 4.0),
    };
    let bead = deck.between(5.0, 14.0);
    let proud = if deck.chance(0.2) { deck.between(0.0, bead) } else { 0.0 };
    let bed = deck.between(0.0, 3.0);
    // Told from what is drawn already: a draw more would change every house.
    let held_by =
        if proud == 0.0 && (64.0 * bead).fract() < 0.3 { HeldBy::Putty } else { HeldBy::Beads };
    let water = match ((64.0 * bed).fract(), held_by) {
        (_, HeldBy::Putty) | (..0.2, _) => Some(WaterOut::Bedded),
        (..0.4, _) => Some(WaterOut::Drained),
        _ => None,
    };
    let finish = Finish { bed, bead, proud, held_by, water };
    let cut = Cut {
        reach: clearance.map(|gap| unit.cover + gap),
        depth: finish.bed + unit.build_up.thickness() + unit.over + bead - proud,
    };
    let thickness = cut.depth + deck.between(0.5, 40.0);
    let members = PerSide::from_fn(|side| draw_member(deck, &cut, side, thickness));
    let sight = Size::new(deck.between(sight.0, sight.1), deck.between(sight.0, sight.1));
    let bars = draw_bars(deck, &cut, sight, thickness);
    let across = (-members.left.width, sight.width + members.right.width);
    let along = (-members.bottom.width, sight.height + members.top.width);
    let mut metal = Vec::new();
    while metal.len() < 4 && deck.chance(0.3) {
        let at = Point::new(deck.between(across.0, across.1), deck.between(along.0, along.1));
        metal.push(Metal {
            name: (*deck.pick(&["metal", "sprig", "corner brace"])).into(),
            at,
            radius: deck.between(0.0, 30.0),
            from_face: deck.between(0.0, thickness),
            cleared: !deck.chance(0.2),
        });
    }
    let mut clamps = Vec::new();
    while clamps.len() < 3 && deck.chance(0.2) {
        clamps.push(Clamp {
            name: (*deck.pick(&["clamp", "stop", "board"])).into(),
            // Beside the sash: a clamp in the way of the cut is another matter.
            at: Point::new(deck.between(-2000.0, -1000.0), deck.between(-200.0, 900.0)),
            size: Size::new(deck.between(5.0, 100.0), deck.between(5.0, 100.0)),
            height: deck.between(-60.0, 60.0),
        });
    }
    let mut screws = Vec::new();
    while screws.len() < 4 && deck.chance(0.3) {
        screws.push(draw_screw(deck, &members, across, along));
    }
    let cords = cords(kind, &members, sight);
    // As above, told from what is drawn already.
    let horn = 20.0 + 100.0 * (8.0 * bead).fract();
    let horns = match kind {
        Kind::SlidingUpper if horn < 70.0 => Horns { top: 0.0, bottom: horn },
        Kind::SlidingLower if horn < 70.0 => Horns { top: horn, bottom: 0.0 },
        _ => Horns::default(),
    };
    Sash {
        cords,
        horns,
        id: format!("sash-{number}"),
        kind,
        timber: Timber {
            species: *deck.pick(&species().collect::<Vec<_>>()),
            class: *deck.pick(&[None, None, Some(CLASSES[0]), Some(CLASSES[1]), Some(CLASSES[2])]),
        },
        sight,
        outline: None,
        hinge_side: (kind == Kind::SideHung && deck.chance(0.5))
            .then(|| if deck.chance(0.5) { Side::Left } else { Side::Right }),
        measures: None,
        members,
        bars,
        bars_as: if per_light { BarsAs::UnitPerLight } else { BarsAs::OneUnit },
        block_height: deck.between(0.0, clearance.bottom),
        unit,
        clearance,
        finish,
        metal,
        screws,
        clamps,
        surface: Vec::new(),
        wind: wind(deck.between(200.0, 2000.0)),
        around: draw_around(deck, kind),
    }
}

fn overhang(deck: &mut Deck) -> Overhang {
    let mut room = || deck.chance(0.2).then(|| deck.between(0.0, 2000.0));
    Overhang { left: room(), right: room(), front: room(), back: room() }
}

fn draw_unit(deck: &mut Deck, per_light: bool) -> Unit {
    let make_ups = ["4-6-4", "4-8-4", "3-4-3", "14", "4-12-4", "6.4-6-4", "4-6-4-6-4", "9.5"];
    let cover = if per_light { deck.between(4.0, 9.0) } else { deck.between(6.0, 16.0) };
    let same = !deck.chance(0.3);
    Unit {
        build_up: deck.pick(&make_ups).parse().unwrap(),
        cover,
        spacer_height: if same { cover } else { deck.between(3.0, 16.0) },
        over: deck.between(0.0, 2.8),
        tape: if deck.chance(0.2) { deck.between(0.0, 1.0) } else { 0.0 },
        internal_bar: if same { cover } else { deck.between(6.0, 30.0) },
        shape: UnitShape::Square,
        order_step: *deck.pick(&[1.0, 0.5, 5.0, 3.175]),
        make: draw_make(deck),
    }
}

fn draw_make(deck: &mut Deck) -> Make {
    let gases = [Gas::Air, Gas::Argon, Gas::Krypton, Gas::Xenon];
    let glass = [Treatment::Annealed, Treatment::HeatStrengthened, Treatment::Toughened];
    Make {
        gas: deck.chance(0.6).then(|| *deck.pick(&gases)),
        share: if deck.chance(0.3) { deck.between(0.5, 1.0) } else { 0.9 },
        emissivity: deck.chance(0.5).then(|| deck.between(0.01, 0.89)),
        spacer: deck.chance(0.5).then(|| *deck.pick(&[Spacer::Metal, Spacer::Improved])),
        glass: deck.chance(0.5).then(|| *deck.pick(&glass)),
    }
}

fn draw_candidates(deck: &mut Deck) -> Candidates {
    let mut units = Vec::new();
    while units.len() < 2 && deck.chance(0.3) {
        units.push(Offered {
            build_up: deck.pick(&["4-8-4", "6.4-6-4", "12"]).parse().unwrap(),
            make: draw_make(deck),
            cover: deck.chance(0.3).then(|| deck.between(6.0, 12.0)),
            spacer_height: deck.chance(0.3).then(|| deck.between(6.0, 12.0)),
            over: deck.chance(0.3).then(|| deck.between(0.0, 2.0)),
        });
    }
    Candidates { usual: !deck.chance(0.3), units }
}

fn draw_allowances(deck: &mut Deck) -> Allowances {
    if !deck.chance(0.3) {
        return Allowances::default();
    }
    Allowances {
        measuring: deck.between(0.0, 2.0),
        cutting: deck.between(0.0, 1.0),
        moisture_now: deck.between(8.0, 12.0),
        moisture_most: deck.between(12.0, 18.0),
        glass_now: deck.between(5.0, 25.0),
        glass_hot: deck.between(30.0, 80.0),
    }
}

fn draw_around(deck: &mut Deck, kind: Kind) -> Around {
    let slides = matches!(kind, Kind::SlidingUpper | Kind::SlidingLower);
    let hangs = matches!(kind, Kind::SideHung | Kind::TopHung);
    let countries = [Country::England, Country::UnitedStates, Country::Other];
    let openings = [Opening::Window, Opening::Door, Opening::BesideDoor];
    Around {
        old_glass: deck.chance(0.5).then(|| deck.between(1.5, 6.0)),
        weights: (slides && deck.chance(0.5)).then(|| WeightBox {
            diameter: deck.between(30.0, 60.0),
            height: deck.between(1000.0, 2000.0),
            travel: deck.between(300.0, 900.0),
            old: deck.chance(0.5).then(|| deck.between(2.0, 15.0)),
        }),
        hinges: (hangs && deck.chance(0.5)).then(|| {
            let apart = deck.between(100.0, 800.0);
            Hinges {
                apart,
                count: if deck.chance(0.3) { 3 } else { 2 },
                screws: if deck.chance(0.3) { 4 } else { 3 },
                diameter: deck.between(3.0, 6.0),
                thread: deck.between(0.0, 40.0),
                cleared: apart > 400.0,
            }
        }),
        opens: deck.chance(0.3).then(|| deck.between(0.0, 90.0)),
        place: with_neighbours(Place {
            country: deck.chance(0.5).then(|| *deck.pick(&countries)),
            opening: deck.chance(0.5).then(|| *deck.pick(&openings)),
            floor: deck.chance(0.5).then(|| deck.between(0.0, 2000.0)),
            walkway: deck.chance(0.5).then(|| deck.between(0.0, 2000.0)),
            drop: deck.chance(0.5).then(|| deck.between(0.0, 9000.0)),
            built: deck.chance(0.5).then(|| 1880 + u32::from(deck.chance(0.5)) * 100),
            listed: deck.chance(0.5).then(|| deck.chance(0.5)),
            near: None,
        }),
        weather: draw_weather(deck),
    }
}

/// Grooves of a sash that slides: not stated, none, or within its stiles, without a draw of their own.
fn cords(kind: Kind, members: &PerSide<Member>, sight: Size) -> Cords {
    let (left, right) = (&members.left, &members.right);
    let thin = left.thickness.min(right.thickness);
    let width = 12.7_f64.min(thin / 3.0);
    match sight.width.to_bits() % 4 {
        _ if !kind.slides() => Cords::None,
        0 => Cords::NotStated,
        1 => Cords::None,
        _ => Cords::Groove(CordGroove {
            depth: 12.7_f64.min(left.width.min(right.width) / 4.0),
            width,
            from_face: (thin - width) / 2.0,
            length: sight.height / 2.0,
        }),
    }
}

/// That pressure, or nothing stated, or a site with figures of their own.
fn wind(pressure: f64) -> Wind {
    let share = pressure.fract();
    let terrains = [Terrain::Sea, Terrain::Flat, Terrain::Country, Terrain::Suburb, Terrain::Town];
    match pressure.to_bits() % 8 {
        0 => Wind::Assumed,
        turn @ 1..=5 if share < 0.5 => Wind::Site(Site {
            speed: 20.0 + 10.0 * share,
            terrain: terrains[turn as usize - 1],
            height: 2.0 + 40.0 * share,
            coefficient: 1.0 + share,
        }),
        _ => Wind::Stated(pressure),
    }
}

/// What is near follows from the heights, without a draw of its own.
fn with_neighbours(place: Place) -> Place {
    use Nearby::{Door, Guard, Stairs, StairsFoot, Wet};
    let all = [Door, Guard, Wet, Stairs, StairsFoot];
    let chosen = |floor: f64| {
        let bits = floor.to_bits();
        all.into_iter().enumerate().filter(move |(at, _)| bits >> at & 1 == 0).map(|(_, near)| near)
    };
    let near = place.walkway.map(|walkway| chosen(walkway).collect::<Near>());
    Place { near, ..place }
}

fn draw_weather(deck: &mut Deck) -> Weather {
    if !deck.chance(0.5) {
        return Weather::default();
    }
    Weather {
        room: Conditions {
            inside: deck.between(15.0, 25.0),
            humidity: deck.between(0.2, 0.8),
            outside: deck.between(-15.0, 10.0),
        },
        degree_hours: deck.chance(0.5).then(|| deck.between(30.0, 120.0)),
        altitude: Some(deck.between(0.0, 1500.0)),
        sealed_altitude: Some(deck.between(0.0, 1500.0)),
        sealed_temperature: deck.between(10.0, 25.0),
        sealed_barometer: deck.between(980.0, 1040.0),
        gas: [deck.between(30.0, 60.0), deck.between(-20.0, 5.0)],
        barometer: [deck.between(960.0, 1000.0), deck.between(1020.0, 1060.0)],
    }
}

fn draw_member(deck: &mut Deck, cut: &Cut, side: Side, sash_thickness: f64) -> Member {
    let width = (cut.reach.get(side) + deck.between(0.5, 60.0)).max(10.0);
    let thickness =
        if deck.chance(0.1) { cut.depth + deck.between(0.5, 30.0) } else { sash_thickness };
    let old = if deck.chance(0.2) {
        let from_face = deck.between(1.0, (thickness / 2.0).min(20.0));
        let slot = deck.between(1.0, (thickness - from_face - 0.5).min(8.0));
        OldGlazing::Groove {
            from_face,
            width: slot,
            depth: deck.between(1.0, width.min(20.0) - 1.0),
        }
    } else {
        draw_rebate(deck, cut, width.min(25.0) - 1.0, thickness)
    };
    let tenon = deck.chance(0.4).then(|| {
        let tenon = deck.between(4.0, thickness / 2.0);
        let haunch = if deck.chance(0.5) { deck.between(0.0, width / 2.0) } else { 0.0 };
        Tenon { thickness: tenon, from_face: deck.between(0.0, thickness - tenon), haunch }
    });
    let moulding = draw_moulding(deck, width.min(30.0), thickness - old.depth());
    Member { width, thickness, old, tenon, moulding }
}

/// An old rebate, mostly no deeper than the new one.
fn draw_rebate(deck: &mut Deck, cut: &Cut, widest: f64, thickness: f64) -> OldGlazing {
    let deepest = if deck.chance(0.1) { thickness - 0.5 } else { cut.depth.min(thickness - 0.5) };
    OldGlazing::Rebate { width: deck.between(1.0, widest), depth: deck.between(1.0, deepest) }
}

fn draw_moulding(deck: &mut Deck, widest: f64, deepest: f64) -> Moulding {
    let shape = deck.index(5);
    if shape == 0 || widest < 0.5 || deepest < 0.5 {
        return Moulding::Square;
    }
    let (width, depth) = (deck.between(0.5, widest), deck.between(0.5, deepest));
    match shape {
        1 => Moulding::Chamfer { width, depth },
        2 => Moulding::Ovolo { width, depth },
        3 => Moulding::Ogee { width, depth },
        _ => {
            let mut points = vec![Point::new(0.0, depth)];
            let mut x = 0.0;
            while points.len() < 5 && deck.chance(0.6) {
                x = deck.between(x, width);
                points.push(Point::new(x, deck.between(0.0, depth)));
            }
            points.push(Point::new(width, 0.0));
            Moulding::Traced(points)
        }
    }
}

/// Up to two bars each way, with lights of at least 40 mm between them.
fn draw_bars(deck: &mut Deck, cut: &Cut, sight: Size, thickness: f64) -> Vec<Bar> {
    let mut bars = Vec::new();
    for (runs, across) in [(Runs::Upright, sight.width), (Runs::Cross, sight.height)] {
        let web_and_edges = match runs {
            Runs::Upright => cut.reach.left + cut.reach.right,
            Runs::Cross => cut.reach.bottom + cut.reach.top,
        };
        let count = deck.index(3);
        let widths: Vec<f64> =
            (0..count).map(|_| web_and_edges + deck.between(0.5, 30.0)).collect();
        let mut free = across - widths.iter().sum::<f64>() - 40.0 * (count as f64 + 1.0);
        if free < 0.0 {
            continue;
        }
        let mut at = 0.0;
        for width in widths {
            let step = deck.between(0.0, free);
            free -= step;
            at += 40.0 + step;
            bars.push(draw_bar(deck, cut, runs, (at, width), thickness));
            at += width;
        }
    }
    bars
}

fn draw_bar(
    deck: &mut Deck,
    cut: &Cut,
    runs: Runs,
    (from, width): (f64, f64),
    thickness: f64,
) -> Bar {
    let old = draw_rebate(deck, cut, (width / 2.0 - 0.5).min(20.0), thickness);
    let moulding = draw_moulding(deck, width / 2.0, thickness - old.depth());
    Bar {
        runs,
        centre: from + width / 2.0,
        course: fillister::survey::Course::Through,
        lean: 0.0,
        width,
        thickness,
        rebate_width: old.width(),
        rebate_depth: old.depth(),
        moulding,
        tenon: deck.chance(0.2).then(|| Tenon {
            thickness: thickness / 3.0,
            from_face: thickness / 3.0,
            haunch: 0.0,
        }),
    }
}

fn draw_screw(
    deck: &mut Deck,
    members: &PerSide<Member>,
    across: (f64, f64),
    along: (f64, f64),
) -> Screw {
    let side = *deck.pick(&Side::ALL);
    let member = members.get(side);
    let (low, high) = if side.is_upright() { along } else { across };
    let (from, through) = if deck.chance(0.5) {
        (ScrewFrom::OuterEdge { from_face: deck.between(0.0, member.thickness) }, member.width)
    } else {
        (ScrewFrom::RoomFace { from_sight: deck.between(0.0, member.width) }, member.thickness)
    };
    let (at, length) = (deck.between(low, high), deck.between(1.0, through));
    Screw { member: side, from, at, length, cleared: at > f64::midpoint(low, high) }
}
