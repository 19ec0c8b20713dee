//! Writes a house as a survey file with every value spelled out, in millimetres or in inches.

use fillister::geometry::{Edge, Side};
use fillister::language::{Called, Language, Text};
use fillister::survey::{
    Around, Bar, BarsAs, Cords, Country, Course, Direction, Gas, GuidedBy, Height, House, Limits,
    Make, Measure, Member, Moulding, Near, Nearby, OldGlazing, Opening, Paper, ProgramsAs, Runs,
    Sash, Screw, ScrewFrom, Spacer, TemplateAs, Tenon, Terrain, Treatment, UnitShape, WaterOut,
    Wind, Workshop,
};
use std::fmt::Write;

/// The unit that lengths are written in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Lengths {
    Millimetres,
    Inches,
}

/// The survey file of `house`.
pub(crate) fn write(house: &House, lengths: Lengths) -> String {
    let mut out = format!("house = {}\n", text(&house.name));
    workshop(&mut out, &house.workshop, lengths);
    for one in &house.sashes {
        sash(&mut out, one, lengths);
    }
    out
}

/// `value` millimetres as the file writes it.
fn mm(value: f64, lengths: Lengths) -> String {
    match lengths {
        Lengths::Millimetres => format!("{value:?}"),
        Lengths::Inches => format!("\"{} in\"", value / 25.4),
    }
}

/// A basic TOML string.
fn text(value: &str) -> String {
    format!("\"{}\"", value.replace('\\', "\\\\").replace('"', "\\\""))
}

/// `{ key = length, … }`.
fn lengths_table(keys: &[(&str, f64)], lengths: Lengths) -> String {
    let parts: Vec<String> =
        keys.iter().map(|(key, value)| format!("{key} = {}", mm(*value, lengths))).collect();
    format!("{{ {} }}", parts.join(", "))
}

fn pair(x: f64, y: f64, lengths: Lengths) -> String {
    format!("[{}, {}]", mm(x, lengths), mm(y, lengths))
}

fn moulding(moulding: &Moulding, lengths: Lengths) -> String {
    let named = |shape: &str, width: f64, depth: f64| {
        let (width, depth) = (mm(width, lengths), mm(depth, lengths));
        format!("{{ shape = \"{shape}\", width = {width}, depth = {depth} }}")
    };
    match moulding {
        Moulding::Square => "{ shape = \"square\" }".to_owned(),
        Moulding::Chamfer { width, depth } => named("chamfer", *width, *depth),
        Moulding::Ovolo { width, depth } => named("ovolo", *width, *depth),
        Moulding::Ogee { width, depth } => named("ogee", *width, *depth),
        Moulding::Traced(points) => {
            let points: Vec<String> = points.iter().map(|p| pair(p.x, p.y, lengths)).collect();
            format!("{{ shape = \"traced\", points = [{}] }}", points.join(", "))
        }
    }
}

/// A rectangle by its size, any other daylight corner by corner.
fn daylight(sash: &Sash, lengths: Lengths) -> String {
    let Some(outline) = &sash.outline else {
        let size = [("width", sash.sight.width), ("height", sash.sight.height)];
        return lengths_table(&size, lengths);
    };
    let corner = |(edge, _): (&Edge, Side)| {
        let bulge = if let Edge::Arc(arc) = edge { arc.bulge() } else { 0.0 };
        let (x, y) = (mm(edge.start().x, lengths), mm(edge.start().y, lengths));
        format!("[{x}, {y}, {bulge:?}]")
    };
    let corners: Vec<String> = outline.edges().map(corner).collect();
    format!("{{ outline = [{}] }}", corners.join(", "))
}

/// The line of the thinner cutter for the corners, where there is one.
fn corner_cutter(workshop: &Workshop, lengths: Lengths) -> String {
    let mm = |value| mm(value, lengths);
    let Some(cutter) = &workshop.machine.corner_cutter else { return String::new() };
    let held = cutter.holder.map_or_else(String::new, |holder| {
        let keys = [("diameter", holder.diameter), ("stick_out", holder.stick_out)];
        format!(", holder = {}", lengths_table(&keys, lengths))
    });
    format!(
        "corner_cutter = {{ diameter = {}, flutes = {}, cutting_length = {}, shank_diameter = {}{held} }}\n",
        mm(cutter.diameter),
        cutter.flutes,
        mm(cutter.cutting_length),
        mm(cutter.shank_diameter)
    )
}

/// How much of a template is printed, and in whose words.
fn sheets(workshop: &Workshop) -> (&'static str, &'static str) {
    let template = match workshop.printer.template {
        TemplateAs::Corners => "corners",
        TemplateAs::Whole => "whole",
    };
    let american = workshop.printer.language == Language::american();
    let words = if american { "American" } else { "British" };
    (template, words)
}

fn workshop(out: &mut String, workshop: &Workshop, lengths: Lengths) {
    let mm = |value| mm(value, lengths);
    let (cutter, router) = (&workshop.cutter, &workshop.router);
    let (machine, cutting) = (&workshop.machine, &workshop.cutting);
    let direction = match cutting.direction {
        Direction::Against => "against",
        Direction::With => "with",
    };
    let zero =
        machine.zero.map_or_else(String::new, |[x, y]| format!("zero = {}\n", pair(x, y, lengths)));
    let hang = &machine.overhang;
    let sides =
        [("left", hang.left), ("right", hang.right), ("front", hang.front), ("back", hang.back)];
    let closed = sides.map(|(side, room)| room.map(|room| (side, room)));
    let closed: Vec<(&str, f64)> = closed.into_iter().flatten().collect();
    let overhang = if closed.is_empty() {
        String::new()
    } else {
        format!("overhang = {}\n", lengths_table(&closed, lengths))
    };
    let holder = cutter.holder.map_or_else(String::new, |holder| {
        let keys = [("diameter", holder.diameter), ("stick_out", holder.stick_out)];
        format!("holder = {}\n", lengths_table(&keys, lengths))
    });
    let bearing = router.bearing.map_or_else(String::new, |bearing| {
        let keys = [("diameter", bearing.diameter), ("height", bearing.height)];
        format!("bearing = {}\n", lengths_table(&keys, lengths))
    });
    let guided_by = match router.guided_by {
        GuidedBy::Bush => "bush",
        GuidedBy::Straightedge => "straightedge",
    };
    let corner = corner_cutter(workshop, lengths);
    let programs = match machine.programs {
        ProgramsAs::Stage => "stage",
        ProgramsAs::One => "one",
    };
    let clear = machine.clear_height;
    let clear = clear.map_or_else(String::new, |clear| format!("clear_height = {}\n", mm(clear)));
    let printer = &workshop.printer;
    let paper = match printer.paper {
        Paper::A4 => "A4",
        Paper::A3 => "A3",
        Paper::Letter => "Letter",
        Paper::Roll => "roll",
    };
    let (template, words) = sheets(workshop);
    let _ = write!(
        out,
        "[workshop.cutter]\ndiameter = {}\nflutes = {}\ncutting_length = {}\nshank_diameter = {}\n{holder}\
         [workshop.router]\nbase_diameter = {}\nguide_bush = {}\nguided_by = \"{guided_by}\"\nplate = {}\n{bearing}\
         [workshop.printer]\npaper = \"{paper}\"\nroll_width = {}\nmargin = {}\noverlap = {}\n\
         template = \"{template}\"\ninches = {}\nwords = \"{words}\"\n\
         [workshop.machine]\n{corner}programs = \"{programs}\"\n{zero}{overhang}bed = {}\n{clear}spoil_board = {}\nmax_feed = {:?}\nmax_plunge = {:?}\n\
         rapid = {:?}\nspindle = {:?}\nspindle_wait = {:?}\n\
         [workshop.cutting]\nstep_depth = {}\nwiden_step = {}\nside_step = {:?}\nscore_depth = {}\n\
         finish_allowance = {}\nchip_load = {}\ndirection = \"{direction}\"\ntolerance = {}\nzero_error = {}\n",
        mm(cutter.diameter),
        cutter.flutes,
        mm(cutter.cutting_length),
        mm(cutter.shank_diameter),
        mm(router.base_diameter),
        mm(router.guide_bush),
        mm(router.plate),
        mm(printer.roll_width),
        mm(printer.margin),
        mm(printer.overlap),
        printer.inches,
        pair(machine.bed[0], machine.bed[1], lengths),
        mm(machine.spoil_board),
        machine.max_feed,
        machine.max_plunge,
        machine.rapid,
        machine.spindle,
        machine.spindle_wait,
        mm(cutting.step_depth),
        mm(cutting.widen_step),
        cutting.side_step,
        mm(cutting.score_depth),
        mm(cutting.finish_allowance),
        mm(cutting.chip_load),
        mm(cutting.tolerance),
        mm(cutting.zero_error),
    );
    beyond(out, workshop, lengths);
    out.push_str("[workshop.limits]\n");
    let (mut limits, mut usual) = (workshop.limits.clone(), Limits::default());
    for &name in Limits::NAMES {
        let (limit, usual) = (limits.by_name(name).unwrap(), usual.by_name(name).unwrap());
        if limit == usual {
            continue;
        }
        let value = match Limits::measure(name) {
            Measure::Millimetres | Measure::Size => mm(limit.value),
            Measure::Share | Measure::Ratio | Measure::Kilograms => format!("{:?}", limit.value),
        };
        let _ = writeln!(out, "{name} = {value}");
    }
}

fn sash(out: &mut String, sash: &Sash, lengths: Lengths) {
    let mm = |value| mm(value, lengths);
    let table = |keys: &[(&str, f64)]| lengths_table(keys, lengths);
    let (unit, finish, gaps) = (&sash.unit, &sash.finish, &sash.clearance);
    let shape = match unit.shape {
        UnitShape::Square => "square",
        UnitShape::Shaped => "shaped",
    };
    let bars_as = match sash.bars_as {
        BarsAs::OneUnit => "one-unit",
        BarsAs::UnitPerLight => "unit-per-light",
    };
    let _ = write!(
        out,
        "[[sash]]\nid = \"{}\"\nkind = \"{}\"\nthickness = {}\ntimber = \"{}\"\n{}sight = {}\n\
         bars_as = \"{bars_as}\"\n{}clearance = {}\nblocks = {}\nfinish = {}\n\
         unit = {{ build_up = \"{}\", cover = {}, spacer_height = {}, over = {}, tape = {}, \
         internal_bar = {}, shape = \"{shape}\", order_step = {}{} }}\n",
        sash.id,
        sash.kind.name(),
        mm(sash.members.left.thickness),
        sash.timber.species.name,
        sash.timber
            .class
            .map_or_else(String::new, |class| format!("timber_class = \"{}\"\n", class.name)),
        daylight(sash, lengths),
        match sash.wind {
            Wind::Stated(pressure) => format!("wind = {pressure:?}\n"),
            Wind::Assumed | Wind::Site(_) => String::new(),
        },
        table(&[
            ("left", gaps.left),
            ("right", gaps.right),
            ("top", gaps.top),
            ("bottom", gaps.bottom),
        ]),
        table(&[("height", sash.block_height)]),
        table(&[("bed", finish.bed), ("bead", finish.bead), ("proud", finish.proud)]),
        unit.build_up,
        mm(unit.cover),
        mm(unit.spacer_height),
        mm(unit.over),
        mm(unit.tape),
        mm(unit.internal_bar),
        mm(unit.order_step),
        make(&unit.make),
    );
    let held_by = if finish.is_puttied() { "putty" } else { "beads" };
    let _ = writeln!(out, "glazing = \"{held_by}\"");
    if let Some(water) = finish.water {
        let word = if water == WaterOut::Drained { "drained" } else { "bedded" };
        let _ = writeln!(out, "drainage = \"{word}\"");
    }
    let horns = [("top", sash.horns.top), ("bottom", sash.horns.bottom)];
    let horns: Vec<_> = horns.into_iter().filter(|(_, length)| *length > 0.0).collect();
    if !horns.is_empty() {
        let _ = writeln!(out, "horns = {}", lengths_table(&horns, lengths));
    }
    if let Some(side) = sash.hinge_side {
        let _ =
            writeln!(out, "hinge_side = \"{}\"", if side == Side::Left { "left" } else { "right" });
    }
    if !sash.surface.is_empty() {
        let spot =
            |spot: &Height| format!("[{}, {}, {}]", mm(spot.at.x), mm(spot.at.y), mm(spot.z));
        let spots: Vec<String> = sash.surface.iter().map(spot).collect();
        let _ = writeln!(out, "surface = [{}]", spots.join(", "));
    }
    around(out, &sash.around, sash.wind, lengths);
    cords(out, sash, lengths);
    for bar in &sash.bars {
        write_bar(out, bar, lengths);
    }
    for metal in &sash.metal {
        let _ = writeln!(
            out,
            "[[sash.metal]]\n{}at = {}\nradius = {}\nfrom_face = {}\ncleared = {}",
            name(&metal.name),
            pair(metal.at.x, metal.at.y, lengths),
            mm(metal.radius),
            mm(metal.from_face),
            metal.cleared,
        );
    }
    for clamp in &sash.clamps {
        let _ = writeln!(
            out,
            "[[sash.clamps]]\n{}at = {}\nsize = {}\nheight = {}",
            name(&clamp.name),
            pair(clamp.at.x, clamp.at.y, lengths),
            pair(clamp.size.width, clamp.size.height, lengths),
            mm(clamp.height),
        );
    }
    for screw in &sash.screws {
        write_screw(out, sash, screw, lengths);
    }
    for (side, member) in sash.members.iter() {
        write_member(out, side, member, lengths);
    }
}

/// The keys of a make, each after a comma.
fn make(make: &Make) -> String {
    let mut out = format!(", share = {:?}", make.share);
    if let Some(gas) = make.gas {
        let word = match gas {
            Gas::Air => "air",
            Gas::Argon => "argon",
            Gas::Krypton => "krypton",
            Gas::Xenon => "xenon",
        };
        let _ = write!(out, ", gas = \"{word}\"");
    }
    if let Some(emissivity) = make.emissivity {
        let _ = write!(out, ", emissivity = {emissivity:?}");
    }
    if let Some(spacer) = make.spacer {
        let word = if spacer == Spacer::Metal { "metal" } else { "improved" };
        let _ = write!(out, ", spacer = \"{word}\"");
    }
    if let Some(glass) = make.glass {
        let word = match glass {
            Treatment::Annealed => "annealed",
            Treatment::HeatStrengthened => "heat-strengthened",
            Treatment::Toughened => "toughened",
        };
        let _ = write!(out, ", glass = \"{word}\"");
    }
    out
}

/// Allowances and candidates.
fn beyond(out: &mut String, workshop: &Workshop, lengths: Lengths) {
    let (allowed, candidates) = (&workshop.allowances, &workshop.candidates);
    let _ = write!(
        out,
        "[workshop.allowances]\nmeasuring = {}\ncutting = {}\nmoisture_now = {:?}\nmoisture_most = {:?}\n\
         glass_now = {:?}\nglass_hot = {:?}\n[workshop.candidates]\nusual = {}\nunits = [\n",
        mm(allowed.measuring, lengths),
        mm(allowed.cutting, lengths),
        allowed.moisture_now,
        allowed.moisture_most,
        allowed.glass_now,
        allowed.glass_hot,
        candidates.usual,
    );
    for unit in &candidates.units {
        let _ = write!(out, "{{ build_up = \"{}\"{}", unit.build_up, make(&unit.make));
        for (key, value) in
            [("cover", unit.cover), ("spacer_height", unit.spacer_height), ("over", unit.over)]
        {
            if let Some(value) = value {
                let _ = write!(out, ", {key} = {}", mm(value, lengths));
            }
        }
        out.push_str(" },\n");
    }
    out.push_str("]\n");
}

/// The cord grooves of a sash that slides.
fn cords(out: &mut String, sash: &Sash, lengths: Lengths) {
    let mm = |value| mm(value, lengths);
    match sash.cords {
        Cords::Groove(groove) => {
            let _ = writeln!(
                out,
                "cord_groove = {{ depth = {}, width = {}, length = {}, from_face = {} }}",
                mm(groove.depth),
                mm(groove.width),
                mm(groove.length),
                mm(groove.from_face),
            );
        }
        Cords::None if sash.kind.slides() => {
            let _ = writeln!(out, "cord_groove = {{ depth = 0 }}");
        }
        Cords::None | Cords::NotStated => {}
    }
}

/// What is near, as it stands in a survey.
fn terrain(terrain: Terrain) -> &'static str {
    match terrain {
        Terrain::Sea => "sea",
        Terrain::Flat => "flat",
        Terrain::Country => "country",
        Terrain::Suburb => "suburb",
        Terrain::Town => "town",
    }
}

fn nearby(near: Near) -> String {
    let all = [
        (Nearby::Door, "\"door\""),
        (Nearby::Guard, "\"guard\""),
        (Nearby::Wet, "\"wet\""),
        (Nearby::Stairs, "\"stairs\""),
        (Nearby::StairsFoot, "\"stairs-foot\""),
    ];
    let near: Vec<&str> =
        all.into_iter().filter(|(what, _)| near.has(*what)).map(|(_, word)| word).collect();
    near.join(", ")
}

fn around(out: &mut String, around: &Around, wind: Wind, lengths: Lengths) {
    let mm = |value| mm(value, lengths);
    if let Some(glass) = around.old_glass {
        let _ = writeln!(out, "old_glass = {}", mm(glass));
    }
    if let Some(weights) = around.weights {
        let old = weights.old.map_or_else(String::new, |old| format!(", old = {old:?}"));
        let _ = writeln!(
            out,
            "weights = {{ diameter = {}, height = {}, travel = {}{old} }}",
            mm(weights.diameter),
            mm(weights.height),
            mm(weights.travel),
        );
    }
    if let Some(hinges) = around.hinges {
        let _ = writeln!(
            out,
            "hinges = {{ count = {}, apart = {}, screws = {}, diameter = {}, thread = {}, cleared = {} }}",
            hinges.count,
            mm(hinges.apart),
            hinges.screws,
            mm(hinges.diameter),
            mm(hinges.thread),
            hinges.cleared,
        );
    }
    if let Some(opens) = around.opens {
        let _ = writeln!(out, "opens = {opens:?}");
    }
    let place = &around.place;
    let country = place.country.map(|country| match country {
        Country::England => "england",
        Country::UnitedStates => "us",
        Country::Other => "other",
    });
    let opening = place.opening.map(|opening| match opening {
        Opening::Window => "window",
        Opening::Door => "door",
        Opening::BesideDoor => "beside-door",
    });
    let keys = [
        country.map(|word| format!("country = \"{word}\"")),
        opening.map(|word| format!("opening = \"{word}\"")),
        place.floor.map(|value| format!("floor = {}", mm(value))),
        place.walkway.map(|value| format!("walkway = {}", mm(value))),
        place.near.map(|near| format!("near = [{}]", nearby(near))),
        place.drop.map(|value| format!("drop = {}", mm(value))),
        place.built.map(|year| format!("built = {year}")),
        place.listed.map(|listed| format!("listed = {listed}")),
    ];
    let keys: Vec<String> = keys.into_iter().flatten().collect();
    let _ = writeln!(out, "place = {{ {} }}", keys.join(", "));
    let weather = &around.weather;
    let hours =
        weather.degree_hours.map_or_else(String::new, |h| format!(", degree_hours = {h:?}"));
    let site = match wind {
        Wind::Site(site) => format!(
            ", site = {{ speed = {:?}, terrain = \"{}\", height = {:?}, coefficient = {:?} }}",
            site.speed,
            terrain(site.terrain),
            site.height,
            site.coefficient
        ),
        Wind::Assumed | Wind::Stated(_) => String::new(),
    };
    let height = |key: &str, height: Option<f64>| {
        height.map_or_else(String::new, |height| format!(", {key} = {height:?}"))
    };
    let heights =
        height("altitude", weather.altitude) + &height("sealed_altitude", weather.sealed_altitude);
    let _ = writeln!(
        out,
        "weather = {{ room = {:?}, humidity = {:?}, outdoors = {:?}{heights}, \
         sealed_temperature = {:?}, sealed_barometer = {:?}, gas_hottest = {:?}, \
         gas_coldest = {:?}, barometer_low = {:?}, barometer_high = {:?}{hours}{site} }}",
        weather.room.inside,
        weather.room.humidity,
        weather.room.outside,
        weather.sealed_temperature,
        weather.sealed_barometer,
        weather.gas[0],
        weather.gas[1],
        weather.barometer[0],
        weather.barometer[1],
    );
}

/// Ends of a centre line, and of a curved one how far and which way it bulges.
fn between(edge: &Edge, lengths: Lengths) -> String {
    let (from, to) = (edge.start(), edge.end());
    let ends =
        format!("from = {}\nto = {}", pair(from.x, from.y, lengths), pair(to.x, to.y, lengths));
    let Edge::Arc(arc) = edge else { return ends };
    let (middle, chord) = (edge.at(0.5) - from.midpoint(to), to - from);
    let bulges = if chord.y.abs() > chord.x.abs() {
        if middle.x < 0.0 { "left" } else { "right" }
    } else if middle.y < 0.0 {
        "down"
    } else {
        "up"
    };
    let rise = arc.radius * (1.0 - (arc.sweep / 2.0).cos());
    format!("{ends}\nrise = {}\nbulges = \"{bulges}\"", mm(rise, lengths))
}

fn write_bar(out: &mut String, bar: &Bar, lengths: Lengths) {
    let runs = match (bar.course, bar.runs) {
        (Course::Between(Edge::Arc(_)), _) => "curved",
        (Course::Between(Edge::Line(_)), _) => "slanting",
        (Course::Through, Runs::Upright) => "upright",
        (Course::Through, Runs::Cross) => "cross",
    };
    let centre = if bar.lean == 0.0 {
        mm(bar.centre, lengths)
    } else {
        pair(bar.centre - bar.lean / 2.0, bar.centre + bar.lean / 2.0, lengths)
    };
    let place = match bar.course {
        Course::Through => format!("centre = {centre}"),
        Course::Between(edge) => between(&edge, lengths),
    };
    let rebate = [("width", bar.rebate_width), ("depth", bar.rebate_depth)];
    let _ = writeln!(
        out,
        "[[sash.bars]]\nruns = \"{runs}\"\n{place}\nwidth = {}\nthickness = {}\nrebate = {}\n\
         moulding = {}",
        mm(bar.width, lengths),
        mm(bar.thickness, lengths),
        lengths_table(&rebate, lengths),
        moulding(&bar.moulding, lengths),
    );
    if let Some(tenon) = bar.tenon {
        write_tenon(out, &tenon, lengths);
    }
}

fn write_tenon(out: &mut String, tenon: &Tenon, lengths: Lengths) {
    // A bar's tenon knows no haunch, and a haunch of nothing is what is meant where none is written.
    let mut keys = vec![("thickness", tenon.thickness), ("from_face", tenon.from_face)];
    keys.extend((tenon.haunch > 0.0).then_some(("haunch", tenon.haunch)));
    let _ = writeln!(out, "tenon = {}", lengths_table(&keys, lengths));
}

fn write_screw(out: &mut String, sash: &Sash, screw: &Screw, lengths: Lengths) {
    let (from, key, away) = match screw.from {
        ScrewFrom::OuterEdge { from_face } => ("outer edge", "from_face", from_face),
        ScrewFrom::RoomFace { from_sight } => ("room face", "from_sight", from_sight),
    };
    let _ = writeln!(
        out,
        "[[sash.screws]]\nmember = \"{}\"\nfrom = \"{from}\"\nat = {}\nlength = {}\n{key} = {}\ncleared = {}",
        sash.kind.member_name(screw.member),
        mm(screw.at, lengths),
        mm(screw.length, lengths),
        mm(away, lengths),
        screw.cleared,
    );
}

fn write_member(out: &mut String, side: Side, member: &Member, lengths: Lengths) {
    let _ = writeln!(
        out,
        "[sash.member.{side}]\nwidth = {}\nthickness = {}\nmoulding = {}",
        mm(member.width, lengths),
        mm(member.thickness, lengths),
        moulding(&member.moulding, lengths),
    );
    let table = |keys: &[(&str, f64)]| lengths_table(keys, lengths);
    let _ = match member.old {
        OldGlazing::Rebate { width, depth } => {
            writeln!(out, "rebate = {}", table(&[("width", width), ("depth", depth)]))
        }
        OldGlazing::Groove { from_face, width, depth } => {
            let keys = [("from_face", from_face), ("width", width), ("depth", depth)];
            writeln!(out, "groove = {}", table(&keys))
        }
    };
    if let Some(tenon) = member.tenon {
        write_tenon(out, &tenon, lengths);
    }
}

/// The name that the joiner has given, if he has.
fn name(called: &Called) -> String {
    match called.text() {
        Text::Given(given) => format!("name = {}\n", text(&given)),
        _ => String::new(),
    }
}
