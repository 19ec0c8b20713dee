//! The sheet for the one who runs the programs: holding down, zero, what each program does and what to look for
//! after it, a test in scrap, and how to go on after a stop.
//!
//! Promised: for the programs that were written, and for no others. Not promised: how a controller is handled.

use super::glass::size;
use super::kit::{
    Column, Flow, Picture, Table, Voice, composed, cross, in_a_row, min_max, mm, one_figure,
    or_dash, reading, tell,
};
use super::layers::{MARKS, NEW_REBATE, SIGHT, STOPS, TIMBER, TRAVEL, WORDS};
use super::outlines::timber_and_sight;
use super::work::{self, By};
use super::{SheetError, Subject, margins, set_ups};
use crate::drawing::{Across, Document, Item, Scene, Text, Up};
use crate::geometry::{Edge, Join, Outline, Side};
use crate::machine::{Faster, Touch, clear_height};
use crate::number::{NotFinite, decimal};
use crate::passes::{Cut, Stage};
use crate::report::{ProgramLine, SashReport, StageLine};
use kurbo::{Point, Size};

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
    let voice = subject.voice();
    let (size, margin) = reading(&subject.workshop.printer);
    let head = tell!(voice, "machine-sheet", house = subject.house, sash = report.id);
    let foot = voice.word("sheet-foot");
    let mut flow = Flow::new(voice, (size, margin), head, foot);
    let minutes = report.minutes().unwrap_or_default();
    let count = report.programs.len();
    flow.heading(&tell!(
        voice,
        "machine-answer",
        sash = report.id,
        count,
        minutes = format!("{minutes:.0}")
    ));
    flow.paragraph(&voice.word("machine-proven"));
    if let Some(Faster { feed, faster, chip_load, charts: [least, most], minutes }) = report.faster
    {
        flow.paragraph(&tell!(
            voice,
            "machine-faster",
            faster = format!("{faster:.0}"),
            feed = format!("{feed:.0}"),
            chip_load = format!("{chip_load:.2}"),
            minutes = format!("{minutes:.0}"),
            least = format!("{least:.2}"),
            most = format!("{most:.2}")
        ));
    }
    let cutter = &subject.workshop.cutter;
    flow.paragraph(&tell!(
        voice,
        "machine-cutter",
        diameter = mm(cutter.diameter)?,
        edges = cutter.flutes,
        length = mm(cutter.cutting_length)?,
        depth = mm(report.rebate_depth)?
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
    let title = tell!(voice, "machine-title", house = subject.house, sash = report.id);
    Ok(Some(Document { title, pages: flow.pages() }))
}

/// The sash as it lies, its zero, and the zone that has to be free of clamps.
fn drawing(subject: &Subject<'_>, touch: &Touch, scale: f64) -> Result<Scene, SheetError> {
    let (sash, voice) = (subject.sash, subject.voice());
    let height = HEIGHT / scale;
    let layers = [TIMBER, SIGHT, NEW_REBATE, TRAVEL, STOPS, MARKS, WORDS];
    let title = tell!(voice, "machine-drawing", sash = subject.id());
    let mut scene = Scene::new(title, voice.word("seen-from-face"), &layers);
    timber_and_sight(sash, &mut scene)?;
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
    scene.add_all(&MARKS, cross(Point::ZERO, CROSS / scale).map(Item::Edge));
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
    let voice = flow.voice();
    flow.heading_over(&voice.word("machine-holding"), WITH_TABLE);
    flow.entry("–", &voice.word("machine-face-up"));
    flow.entry("–", &tell!(voice, "machine-clamp", clear = mm(touch.clear)?));
    flow.entry("–", &tell!(voice, "machine-brace", below = mm(touch.board)?));
    if horns {
        flow.entry("–", &voice.word("machine-no-clamp-at-horns"));
    }
    if report.face.is_some() {
        flow.entry("–", &voice.word("machine-not-flat"));
    }
    Ok(())
}

fn zero(
    flow: &mut Flow,
    subject: &Subject<'_>,
    report: &SashReport,
    touch: &Touch,
) -> Result<(), NotFinite> {
    let voice = flow.voice();
    flow.heading_over(&voice.word("machine-zero"), WITH_TABLE);
    let (from, feeler) = (decimal(touch.from_sight, 2)?, mm(touch.feeler)?);
    if report.set_ups.is_empty() {
        match touch.depth {
            Some(depth) => {
                flow.entry("1.", &tell!(voice, "machine-touch", depth = mm(depth)?, feeler, from));
            }
            None => flow.entry("1.", &voice.word("machine-knife")),
        }
    } else {
        flow.entry("1.", &voice.word("machine-zero-of-set-ups"));
    }
    let z = if report.face.is_some() {
        tell!(voice, "machine-z-by-head", feeler)
    } else {
        tell!(voice, "machine-z", feeler)
    };
    flow.entry("2.", &z);
    if let Some(words) =
        report.proof.as_ref().and_then(|proof| margins::zero(&proof.margins, voice))
    {
        flow.entry("3.", &words);
    }
    if !subject.sash.outline.is_rectangle() {
        flow.paragraph(&voice.word("machine-zero-of-a-shape"));
    }
    Ok(())
}

fn programs(flow: &mut Flow, report: &SashReport) -> Result<(), NotFinite> {
    let voice = flow.voice();
    flow.heading_over(&voice.word("machine-programs"), WITH_TABLE);
    let mut table = Table::new(vec![
        Column::words(&voice.word("machine-file"), 2.3),
        Column::numbers(&voice.word("machine-minutes"), 0.8),
        Column::numbers(&voice.word("machine-down-to"), 1.0),
        Column::words(&voice.word("machine-look"), 5.0),
        Column::words(&voice.word("workshop-done"), 0.6),
    ]);
    for program in &report.programs {
        let several = program.stages.len() > 1;
        for (index, StageLine { stage, minutes }) in program.stages.iter().enumerate() {
            let deepest = stage.and_then(|stage| report.depth_after(stage));
            let named = voice.named(Stage::named(*stage));
            table.rows.push(vec![
                match (several, index) {
                    (false, _) => program.name.clone(),
                    (true, 0) => format!("{}: {named}", program.name),
                    (true, stop) => tell!(voice, "machine-after-stop", stop, named),
                },
                format!("{minutes:.0}"),
                or_dash(deepest)?,
                look_for(report, (program, *stage), (deepest, voice))?,
                String::new(),
            ]);
        }
    }
    table.lay(flow);
    if report.programs.iter().any(|program| program.stages.len() > 1) {
        flow.paragraph(&voice.word("machine-stop-between"));
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
    let voice = flow.voice();
    let cutter = &subject.workshop.in_the_corners().cutter;
    flow.heading_over(
        &tell!(voice, "machine-other-cutter", programs = voice.listed(&names)),
        WITH_TABLE,
    );
    let place = if report.face.is_some() {
        voice.word("machine-where-head-names")
    } else {
        voice.word("machine-beside-rebate")
    };
    let change = tell!(
        voice,
        "machine-change",
        diameter = mm(cutter.diameter)?,
        edges = cutter.flutes,
        length = mm(cutter.cutting_length)?,
        place,
        feeler = mm(touch.feeler)?
    );
    let back = if names.len() > 1 { voice.word("machine-change-back") } else { String::new() };
    flow.paragraph(&in_a_row([change, back]));
    Ok(())
}

/// Whether a stage is one of those of a program.
fn does(program: &ProgramLine, stage: Option<Stage>) -> bool {
    program.stages.iter().any(|line| line.stage == stage)
}

fn look_for(
    report: &SashReport,
    (program, stage): (&ProgramLine, Option<Stage>),
    (deepest, voice): (Option<f64>, Voice),
) -> Result<String, NotFinite> {
    let depth = mm(deepest.unwrap_or_default())?;
    // Nothing can be tried before the last set-up has cut its part.
    let last = report.programs.iter().rfind(|other| does(other, stage));
    let whole = last.is_some_and(|last| last.name == program.name);
    let sizes = report.units.iter().map(|unit| size(unit.order.width, unit.order.height));
    let mut sizes = sizes.collect::<Result<Vec<_>, NotFinite>>()?;
    sizes.dedup();
    let sizes = if sizes.len() > 3 {
        voice.word("machine-of-each-light")
    } else {
        tell!(voice, "machine-of-size", sizes = sizes.join(", "))
    };
    let goes_in = tell!(voice, "machine-goes-in", sizes);
    Ok(match stage {
        None => voice.word("machine-look-air"),
        Some(Stage::Score) => {
            tell!(voice, "machine-look-score", depth, widths = widths(report, Stage::Score, voice)?)
        }
        Some(Stage::LowerBars) => tell!(voice, "machine-look-bars", depth),
        Some(Stage::Widen) if whole => tell!(voice, "machine-look-widen", depth, sizes),
        Some(Stage::Widen) => tell!(voice, "machine-look-widen-part", depth),
        Some(Stage::Deepen) => tell!(voice, "machine-look-deepen", depth),
        Some(Stage::Finish) => {
            let cleaned =
                report.programs.iter().any(|other| does(other, Some(Stage::CleanCorners)));
            let unit = if whole && !cleaned { goes_in } else { String::new() };
            let walls = widths(report, Stage::Finish, voice)?;
            in_a_row([tell!(voice, "machine-look-finish", widths = walls), unit])
        }
        Some(Stage::CleanCorners) => {
            let left = report.passes.iter().find_map(|line| match &line.pass.cut {
                Cut::Clean { to, .. } => Some(*to),
                _ => None,
            });
            let radius = mm(left.unwrap_or_default())?;
            in_a_row([tell!(voice, "machine-look-corners", radius), goes_in])
        }
        Some(Stage::Corners) => voice.word("machine-look-square"),
    })
}

/// Sight edge to wall after a stage, in words, over all units.
fn widths(report: &SashReport, stage: Stage, voice: Voice) -> Result<String, NotFinite> {
    let Some(all) = report.widths_after(stage) else { return Ok(voice.word("machine-as-drawn")) };
    let sides = Side::ALL
        .map(|side| Ok((voice.named(&side.to_string()), min_max(*all.get(side), voice)? + " mm")));
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
    let voice = flow.voice();
    let run = match program.stages.len() {
        1 => program.name.clone(),
        _ => tell!(voice, "machine-up-to-stop", name = program.name, stop = index + 1),
    };
    flow.heading_over(&voice.word("machine-test"), WITH_TABLE);
    flow.paragraph(&tell!(
        voice,
        "machine-test-how",
        feeler = mm(touch.feeler)?,
        run,
        widths = widths(report, stage, voice)?,
        depth = mm(report.depth_after(stage).unwrap_or_default())?
    ));
    Ok(())
}

fn stopped(flow: &mut Flow, subject: &Subject<'_>) -> Result<(), NotFinite> {
    let voice = flow.voice();
    flow.heading_over(&voice.word("machine-stopped"), WITH_TABLE);
    flow.paragraph(&tell!(
        voice,
        "machine-stopped-how",
        height = mm(clear_height(subject.sash, subject.workshop))?
    ));
    Ok(())
}

fn cautions(flow: &mut Flow) {
    let voice = flow.voice();
    flow.heading(&voice.word("workshop-cautions"));
    for caution in ["machine-hands", "machine-lungs", "machine-metal", "machine-rules"] {
        flow.entry("!", &voice.word(caution));
    }
}
