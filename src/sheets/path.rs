//! Where the cutter goes, stage by stage, seen on the glazing face.
//!
//! Drawn from the text of each program as the prover reads it, not from the plan. Promised: every move is in the
//! picture of its program; one that runs over another shows once. Not promised: how deep, which the program's
//! remarks say.

use super::kit::tell;
use super::layers::{SIGHT, TIMBER, WORDS};
use super::outlines::timber;
use super::{SheetError, Subject};
use crate::drawing::{Colour, Item, Layer, LineKind, LineWidth, Scene, Text};
use crate::geometry::{Edge, Outline};
use crate::passes::Stage;
use crate::prove::Passage;
use crate::report::ProgramLine;
use kurbo::{Point, Vec2};
use std::collections::BTreeSet;

/// Height of capitals, mm.
const HEIGHT: f64 = 4.0;
/// The longer side of the sash in each picture, mm.
const LONGEST: f64 = 180.0;
/// Between pictures, mm.
const GAP: f64 = 15.0;
/// Pictures in a row.
const IN_A_ROW: usize = 3;
/// Radius of the ring where the cutter comes down, mm.
const DOWN: f64 = 1.6;
/// Moves whose ends and middles lie closer than this on the picture are drawn once, mm.
const ALIKE: f64 = 0.01;

/// Moves at feed, below the face.
const CUT: Layer = Layer::new("cut", Colour::Red, LineKind::Continuous, LineWidth::W035);
/// Moves at feed that stay above the face.
const ABOVE: Layer =
    Layer::new("feed above the face", Colour::Green, LineKind::Chain, LineWidth::W025);
/// Rapid moves.
const RAPID: Layer = Layer::new("rapid", Colour::Grey, LineKind::Dashed, LineWidth::W018);
/// Where the cutter comes down into or beside the wood.
const COMES_DOWN: Layer =
    Layer::new("comes down", Colour::Black, LineKind::Continuous, LineWidth::W025);

/// The picture: each program with its moves, those of each stage by themselves.
///
/// # Errors
/// Where an outline has no area.
pub fn drawing(
    subject: &Subject<'_>,
    programs: &[(&ProgramLine, Vec<Vec<Passage>>)],
) -> Result<Scene, SheetError> {
    let sash = subject.sash;
    let all = sash.extent();
    let scale = all.width().max(all.height()) / LONGEST;
    let voice = subject.voice();
    let title = tell!(voice, "path-drawing", sash = subject.id());
    let order = [TIMBER, SIGHT, RAPID, ABOVE, CUT, COMES_DOWN, WORDS];
    let seen = voice.word("path-seen");
    let mut scene = Scene::new(title, seen, &order);
    let size = all.size() / scale;
    let parts = programs.iter().flat_map(|(program, parts)| {
        program.stages.iter().zip(parts).map(|(stage, moves)| (*program, stage, moves))
    });
    for (index, (program, stage, moves)) in parts.enumerate() {
        let (row, column) = (index / IN_A_ROW, index % IN_A_ROW);
        let aside = Vec2::new(
            column as f64 * (size.width + GAP),
            -(row as f64 * (size.height + GAP + 3.0 * HEIGHT)),
        );
        let small = |outline: &Outline| Item::Outline(outline.reduced(scale).moved(aside));
        scene.add_all(&TIMBER, timber(sash)?.iter().map(small));
        for light in &sash.lights {
            scene.add(&SIGHT, small(&light.outline.within(light.sight)?));
        }
        add_moves(&mut scene, moves, scale, aside);
        let what = match program.stages.as_slice() {
            [_] => program.name.clone(),
            _ => format!("{}: {}", program.name, voice.named(Stage::named(stage.stage))),
        };
        let words = tell!(voice, "path-minutes", what, minutes = format!("{:.0}", stage.minutes));
        let corner = all.origin().to_vec2() / scale + aside;
        let at = corner.to_point() - Vec2::new(0.0, 2.0 * HEIGHT);
        scene.add(&WORDS, Item::Text(Text::new(voice.said(&words), at, HEIGHT)));
    }
    scene.add_caption(&WORDS, HEIGHT);
    Ok(scene)
}

fn add_moves(scene: &mut Scene, moves: &[Passage], scale: f64, aside: Vec2) {
    let mut drawn = BTreeSet::new();
    for step in moves {
        let path = step.path.reduced(scale).moved(aside);
        let lowest = step.z[0].min(step.z[1]);
        let is_upright = path.length() <= ALIKE;
        let (layer, item) = match (is_upright, step.rapid) {
            (true, false) if step.z[1] < step.z[0] && lowest < 0.0 => {
                (&COMES_DOWN, Edge::circle(path.end(), DOWN))
            }
            (true, _) => continue,
            (false, true) => (&RAPID, path),
            (false, false) if lowest >= 0.0 => (&ABOVE, path),
            (false, false) => (&CUT, path),
        };
        if drawn.insert((layer.name.clone(), key(&item))) {
            scene.add(layer, Item::Edge(item));
        }
    }
}

/// Where an edge lies on the picture, whichever way it runs.
fn key(edge: &Edge) -> [[u64; 2]; 3] {
    // Zero has one sign.
    let at = |point: Point| [point.x, point.y].map(|v| ((v / ALIKE).round() + 0.0).to_bits());
    let (a, b) = (at(edge.start()), at(edge.end()));
    [a.min(b), at(edge.at(0.5)), a.max(b)]
}
