//! The sheet for the one who runs the programs: holding down, zero, what each program does and what to look for
//! after it, a test in scrap, and how to go on after a stop.
//!
//! Promised: for the programs that were written, and for no others. Not promised: how a controller is handled.

use super::answer::counted;
use super::kit::{Column, Flow, Picture, Table, composed, min_max, mm, one_figure, reading};
use super::layers::{MARKS, NEW_REBATE, SIGHT, STOPS, TIMBER, TRAVEL, WORDS};
use super::outlines::timber;
use super::work::{self, By};
use super::{SheetError, Subject, margins, set_ups};
use crate::drawing::{Across, Document, Item, Scene, Text, Up};
use crate::geometry::{Edge, Join, Outline, Side};
use crate::machine::{Faster, Touch, clear_height};
use crate::number::{NotFinite, decimal};
use crate::passes::{Cut, Stage};
use crate::report::{ProgramLine, SashReport, StageLine};
use kurbo::{Point, Size, Vec2};

/// Room that a heading wants for the first lines below it, mm.
const WITH_TABLE: f64 = 40.0;
/// Height of words in the drawing, on paper, mm.
const HEIGHT: f64 = 2.8;
/// Half the length of the cross at the zero, on paper, mm.
const CROSS: f64 = 5.0;

/// The sheet; none where no program was written.
///
/// # Errors
/// Where the drawing cannot be composed, or a number is not finite.
pub fn document(
    subject: &Subject<'_>,
    report: &SashReport,
) -> Result<Option<Document>, SheetError> {
    let (Some(touch), [_, ..]) = (report.touch, report.programs.as_slice()) else {
        return Ok(None);
    };
    let (size, margin) = reading(&subject.workshop.printer);
    let head = format!("{} · {} · at the machine", subject.house, report.id);
    let foot = "Calculated from the survey as written; it does not replace local codes or licensed practice.";
    let mut flow = Flow::new(subject.voice(), (size, margin), head, foot);
    let minutes = report.minutes().unwrap_or_default();
    let count = counted(report.programs.len());
    flow.heading(&format!("{}: {count}, about {minutes:.0} minutes", report.id));
    flow.paragraph(
        "All of them were run against the timber on paper, and cut what must go and nothing that must stay. \
         That holds for this sash, laid and held as told here, and for the cutter named here.",
    );
    if let Some(Faster { feed, faster, chip_load, charts: [least, most], minutes }) = report.faster
    {
        flow.paragraph(&format!(
            "Quicker, if the machine holds it: feed {faster:.0} in place of {feed:.0} mm/min (max_feed, with \
             chip_load = {chip_load:.2}) saves about {minutes:.0} minutes. Published charts for such a cutter begin \
             at {least:.2} mm a cutting edge and go up to {most:.2} mm."
        ));
    }
    let cutter = &subject.workshop.cutter;
    flow.paragraph(&format!(
        "Cutter {} mm, flat end, {} cutting edges, {} mm long. The tip goes {} mm below the face at the deepest.",
        mm(cutter.diameter)?,
        cutter.flutes,
        mm(cutter.cutting_length)?,
        mm(report.rebate_depth)?
    ));
    let most = Size::new(flow.width(), (size.height / 2.6).min(110.0));
    let extent = subject.sash.extent().size();
    let scene = composed(most, extent, |scale| drawing(subject, &touch, scale))?;
    flow.picture(Picture::within(scene, most));
    work::order(&mut flow, subject, By::Machine);
    holding(&mut flow, report, &touch, !subject.sash.horns().is_empty())?;
    zero(&mut flow, subject, report, &touch)?;
    set_ups::entries(&mut flow, &report.set_ups)?;
    programs(&mut flow, report)?;
    change_of_cutter(&mut flow, subject, report, &touch)?;
    test_in_scrap(&mut flow, report, &touch)?;
    stopped(&mut flow, subject)?;
    cautions(&mut flow);
    let title = format!("{}, {}: at the machine", subject.house, report.id);
    Ok(Some(Document { title, pages: flow.pages() }))
}

/// The sash as it lies, its zero, and the zone that has to be free of clamps.
fn drawing(subject: &Subject<'_>, touch: &Touch, scale: f64) -> Result<Scene, SheetError> {
    let sash = subject.sash;
    let height = HEIGHT / scale;
    let layers = [TIMBER, SIGHT, NEW_REBATE, TRAVEL, STOPS, MARKS, WORDS];
    let title = format!("sash {}, keep all within the chain line free of clamps", subject.id());
    let mut scene = Scene::new(title, "seen from the glazing face", &layers);
    for outline in timber(sash)? {
        scene.add(&TIMBER, Item::Outline(outline));
    }
    for light in &sash.lights {
        scene.add(&SIGHT, Item::Outline(light.outline.within(light.sight)?));
    }
    for pocket in &subject.rebate.pockets {
        scene.add(&NEW_REBATE, Item::Outline(pocket.wall.clone()));
        // Where no line runs so far round a wall, its bounds do.
        let clear = pocket.wall.offset(touch.clear, Join::Round);
        let bounds = || pocket.wall.bounds().inflate(touch.clear, touch.clear);
        let clear = clear.or_else(|_| Outline::rectangle(bounds()))?;
        scene.add(&TRAVEL, Item::Outline(clear));
    }
    for clamp in &sash.measured.clamps {
        scene.add(&STOPS, Item::Outline(Outline::rectangle(clamp.place())?));
    }
    let arm = CROSS / scale;
    for arm in [Vec2::new(arm, 0.0), Vec2::new(0.0, arm)] {
        scene.add(&MARKS, Item::Edge(Edge::line(Point::ZERO - arm, Point::ZERO + arm)));
    }
    let all = scene.extents();
    let at = Point::new(all.x0 - height, all.y0 - height);
    scene.add(&MARKS, Item::Edge(Edge::line(Point::ZERO, at)));
    scene.add(&WORDS, Item::Text(Text::new("X0 Y0", at, height).anchored(Across::Centre, Up::Top)));
    scene.add_caption(&WORDS, height);
    Ok(scene)
}

fn holding(
    flow: &mut Flow,
    report: &SashReport,
    touch: &Touch,
    horns: bool,
) -> Result<(), NotFinite> {
    flow.heading_over("Holding the sash down", WITH_TABLE);
    flow.entry(
        "–",
        "Lay it glazing face up on a flat board that may be cut into. Pack hollows so that it rocks nowhere and lies \
         as level as it was measured.",
    );
    flow.entry(
        "–",
        &format!(
            "Clamp it along its outer edges: at least twice on each stile and rail, and {} mm or more outside the new \
             rebate. Put no screw through a part that shows or is cut.",
            mm(touch.clear)?
        ),
    );
    flow.entry(
        "–",
        &format!(
            "Brace the empty frame with a board wedged into each opening, its top {} mm or more below the glazing face: \
             the cutter comes down in the openings.",
            mm(touch.board)?
        ),
    );
    if horns {
        flow.entry(
            "–",
            "No clamp and no stop at the horns: their grain is short, and they are no edge to lay the sash against.",
        );
    }
    if report.face.is_some() {
        flow.entry(
            "–",
            "The face of this sash is not flat and the programs follow it: do not clamp it flat.",
        );
    }
    Ok(())
}

fn zero(
    flow: &mut Flow,
    subject: &Subject<'_>,
    report: &SashReport,
    touch: &Touch,
) -> Result<(), NotFinite> {
    flow.heading_over("Setting zero", WITH_TABLE);
    let (from, feeler) = (decimal(touch.from_sight, 2)?, mm(touch.feeler)?);
    if report.set_ups.is_empty() {
        match touch.depth {
            Some(depth) => flow.entry(
                "1.",
                &format!(
                    "X and Y: spindle still, tip {} mm below the face in the lower left opening, below the old rebate. \
                     Move left until a feeler of {feeler} mm just slides between cutter and sight edge: X reads {from} mm. \
                     Move down to the lower sight edge in the same way: Y reads {from} mm.",
                    mm(depth)?
                ),
            ),
            None => flow.entry(
                "1.",
                "X and Y: the moulding begins too near the old rebate for a cutter to touch the sight edge. Square the \
                 left and the lower sight edge up to the face with a knife, and set zero where the two lines cross.",
            ),
        }
    } else {
        flow.entry(
            "1.",
            "X and Y: the zero of the machine, the same for all set-ups, as told below.",
        );
    }
    let z = if report.face.is_some() {
        format!(
            "Z: over the place that the head of each program names. There a feeler of {feeler} mm under the tip means \
             the Z named in the head, and {feeler} more."
        )
    } else {
        format!(
            "Z: on the glazing face beside the new rebate; with the feeler under the tip Z reads {feeler} mm."
        )
    };
    flow.entry("2.", &z);
    if let Some(words) = report.proof.as_ref().and_then(|proof| margins::zero(&proof.margins)) {
        flow.entry("3.", &words);
    }
    if !subject.sash.outline.is_rectangle() {
        flow.paragraph(
            "Of a sash that is not a rectangle, touch the edges where the daylight reaches furthest to the left and \
             furthest down.",
        );
    }
    Ok(())
}

fn programs(flow: &mut Flow, report: &SashReport) -> Result<(), NotFinite> {
    flow.heading_over("Programs, in this order", WITH_TABLE);
    let mut table = Table::new(vec![
        Column::words("file in cuts", 2.3),
        Column::numbers("minutes", 0.8),
        Column::numbers("down to, mm", 1.0),
        Column::words("look for this after it", 5.0),
        Column::words("done", 0.6),
    ]);
    for program in &report.programs {
        let several = program.stages.len() > 1;
        for (index, StageLine { stage, minutes }) in program.stages.iter().enumerate() {
            let deepest = stage.and_then(|stage| report.depth_after(stage));
            let named = Stage::named(*stage);
            table.rows.push(vec![
                match (several, index) {
                    (false, _) => program.name.clone(),
                    (true, 0) => format!("{}: {named}", program.name),
                    (true, stop) => format!("after stop {stop}: {named}"),
                },
                format!("{minutes:.0}"),
                deepest.map_or_else(|| Ok("–".to_owned()), mm)?,
                look_for(report, (program, *stage), deepest)?,
                String::new(),
            ]);
        }
    }
    table.lay(flow);
    if report.programs.iter().any(|program| program.stages.len() > 1) {
        flow.paragraph(
            "Between two stages the program stops, the spindle still and the cutter up. Look, clear the chips, take the \
             hands away, and press start: the spindle starts by itself, and the cutter goes on once it is at speed.",
        );
    }
    Ok(())
}

/// What is done before the program of the thinner cutter.
fn change_of_cutter(
    flow: &mut Flow,
    subject: &Subject<'_>,
    report: &SashReport,
    touch: &Touch,
) -> Result<(), NotFinite> {
    let programs = report.programs.iter();
    let programs = programs.filter(|program| does(program, Some(Stage::CleanCorners)));
    let names: Vec<&str> = programs.map(|program| program.name.as_str()).collect();
    if names.is_empty() {
        return Ok(());
    }
    let cutter = &subject.workshop.in_the_corners().cutter;
    flow.heading_over(&format!("Another cutter for {}", names.join(" and ")), WITH_TABLE);
    let place = if report.face.is_some() {
        "over the place that the head of the program names"
    } else {
        "on the glazing face beside the new rebate"
    };
    flow.paragraph(&format!(
        "Leave the sash where it is, and X and Y as they are. Put in the cutter of {} mm, flat end, {} cutting edges, {} \
         mm long, and set Z anew {place}, feeler {} mm as before. Measure this cutter too: the corners are cut to the \
         walls that are there, and one that is thicker than it says cuts into them.{}",
        mm(cutter.diameter)?,
        cutter.flutes,
        mm(cutter.cutting_length)?,
        mm(touch.feeler)?,
        if names.len() > 1 {
            " Before the sash is moved on, the first cutter goes in again, and Z is set anew."
        } else {
            ""
        }
    ));
    Ok(())
}

/// Whether a stage is one of those of a program.
fn does(program: &ProgramLine, stage: Option<Stage>) -> bool {
    program.stages.iter().any(|line| line.stage == stage)
}

fn look_for(
    report: &SashReport,
    (program, stage): (&ProgramLine, Option<Stage>),
    deepest: Option<f64>,
) -> Result<String, NotFinite> {
    let depth = mm(deepest.unwrap_or_default())?;
    // Nothing can be tried before the last set-up has cut its part.
    let last = report.programs.iter().rfind(|other| does(other, stage));
    let whole = last.is_some_and(|last| last.name == program.name);
    let sizes = report
        .units
        .iter()
        .map(|unit| Ok(format!("{} × {}", mm(unit.order.width)?, mm(unit.order.height)?)));
    let mut sizes = sizes.collect::<Result<Vec<_>, NotFinite>>()?;
    sizes.dedup();
    let sizes = if sizes.len() > 3 {
        "of each light".to_owned()
    } else {
        format!("of {} mm", sizes.join(", "))
    };
    let goes_in = format!(" The unit, {sizes}, goes in by hand.");
    Ok(match stage {
        None => "Hand on the stop. It passes over every clamp, stays within the travel, and goes round what will be cut."
            .into(),
        Some(Stage::Score) => format!(
            "The line runs clean all round, {depth} mm deep. Sight edge to line: {}.",
            widths(report, Stage::Score)?
        ),
        Some(Stage::LowerBars) => {
            format!("The bars are whole, and {depth} mm below the face where the unit passes behind them.")
        }
        Some(Stage::Widen) if whole => format!(
            "Floor {depth} mm below the face. A board as large as the unit, {sizes}, drops in."
        ),
        Some(Stage::Widen) => {
            format!("Floor {depth} mm below the face, as far as this set-up reaches.")
        }
        Some(Stage::Deepen) => {
            format!("Floor {depth} mm below the face at every corner and in the middle of each side.")
        }
        Some(Stage::Finish) => {
            let cleaned = report.programs.iter().any(|other| does(other, Some(Stage::CleanCorners)));
            let unit = if whole && !cleaned { goes_in } else { String::new() };
            format!("Walls smooth, {} from the sight edge.{unit}", widths(report, Stage::Finish)?)
        }
        Some(Stage::CleanCorners) => {
            let left = report.passes.iter().find_map(|line| match &line.pass.cut {
                Cut::Clean { to, .. } => Some(*to),
                _ => None,
            });
            format!(
                "Corners round to {} mm, the floor in them level with the rest.{goes_in}",
                mm(left.unwrap_or_default())?
            )
        }
        Some(Stage::Corners) => "Corners square.".into(),
    })
}

/// Sight edge to wall after a stage, in words, over all units.
fn widths(report: &SashReport, stage: Stage) -> Result<String, NotFinite> {
    let Some(all) = report.widths_after(stage) else { return Ok("as drawn".into()) };
    let sides = Side::ALL.map(|side| Ok((side.to_string(), min_max(*all.get(side))? + " mm")));
    let sides = sides.into_iter().collect::<Result<Vec<_>, NotFinite>>()?;
    Ok(one_figure(&sides))
}

fn test_in_scrap(flow: &mut Flow, report: &SashReport, touch: &Touch) -> Result<(), NotFinite> {
    let mut stages = report.programs.iter().flat_map(|program| {
        program.stages.iter().enumerate().map(move |(index, line)| (program, index, line.stage))
    });
    let first = stages.find_map(|(program, index, stage)| Some((program, index, stage?)));
    let Some((program, index, stage)) = first.filter(|_| report.set_ups.is_empty()) else {
        return Ok(());
    };
    let run = match program.stages.len() {
        1 => program.name.clone(),
        _ => format!("{} up to stop {}", program.name, index + 1),
    };
    flow.heading_over("First a test in scrap", WITH_TABLE);
    flow.paragraph(&format!(
        "Clamp two straight offcuts as thick as the sash where its left stile and bottom rail will lie, their inner \
         edges as the sight edges. Set zero on them as told above, feeler {} mm and all. Run {run} and measure from the \
         inner edges to the far wall of the cut: {}, {} mm deep. Where that is off by more than twice the feeler, measure the \
         cutter and set zero again; say a worn cutter's true diameter in the survey.",
        mm(touch.feeler)?,
        widths(report, stage)?,
        mm(report.depth_after(stage).unwrap_or_default())?
    ));
    Ok(())
}

fn stopped(flow: &mut Flow, subject: &Subject<'_>) -> Result<(), NotFinite> {
    flow.heading_over("If it stops half way", WITH_TABLE);
    flow.paragraph(&format!(
        "Stop the spindle and raise it by hand to at least {} mm above the face before anything moves sideways. If the \
         machine may have lost its place, or a clamp was moved, set zero again in X, Y and Z. Then run the program \
         that was stopped from its beginning: where it has been it cuts air. Those before it need not run again. Never \
         begin in the middle of a program: what it leans on stands in its first lines.",
        mm(clear_height(subject.sash, subject.workshop))?
    ));
    Ok(())
}

fn cautions(flow: &mut Flow) {
    flow.heading("Cautions");
    for caution in [
        "Keep hands off the table while the spindle turns, a hand near the stop, and never leave it running alone.",
        "Eyes, ears and lungs: glasses, muffs, extraction and a mask. Old paint may hold lead: have it tested.",
        "Draw nails and sprigs first, and go along the wood with a magnet: the cutter must meet no metal.",
        "Local rules for machines and the maker's instructions come before this sheet.",
    ] {
        flow.entry("!", caution);
    }
}
