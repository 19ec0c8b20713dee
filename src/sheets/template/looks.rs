//! How each line of a template looks on paper, and what it is called there: told apart without colour.

use crate::drawing::{Layer, LineKind, LineWidth, Scene};
use crate::sheets::layers;

/// What is drawn on paper: a layer, its kind and width of line, and its name beside the line. Those that are cut by
/// come first.
const LOOKS: [(&Layer, LineKind, LineWidth, &str); 11] = [
    (&layers::APERTURE, LineKind::Chain, LineWidth::W050, "cut the plate here"),
    (&layers::STRAIGHTEDGE, LineKind::Chain, LineWidth::W050, "straightedge"),
    (&layers::NEW_REBATE, LineKind::Continuous, LineWidth::W070, "new rebate"),
    (&layers::SIGHT, LineKind::Continuous, LineWidth::W018, "sight edge"),
    (&layers::OLD_REBATE, LineKind::Dashed, LineWidth::W025, "old rebate"),
    (&layers::UNIT, LineKind::DoubleChain, LineWidth::W025, "edge of the unit"),
    (&layers::CHISEL, LineKind::Continuous, LineWidth::W025, "corner for the chisel"),
    (&layers::METAL, LineKind::Continuous, LineWidth::W025, "metal"),
    (&layers::SCREWS, LineKind::Dashed, LineWidth::W018, "screw in the wood"),
    (&layers::HOLES, LineKind::Continuous, LineWidth::W025, "hole for a screw"),
    (&layers::TIMBER, LineKind::Continuous, LineWidth::W035, "outer edge of the sash"),
];
/// The plate reaches past the sash.
const PLATE: (&Layer, LineKind, LineWidth, &str) =
    (&layers::PLATE, LineKind::Spaced, LineWidth::W035, "edge of the plate");

fn looks() -> impl Iterator<Item = (&'static Layer, LineKind, LineWidth, &'static str)> {
    LOOKS.into_iter().chain([PLATE])
}

/// The lines of a sash as they are printed. Edges of bars are sight edges, and blocks are placed by their table.
pub(super) fn on_paper(scene: &Scene) -> Scene {
    let mut paper = Scene::new(scene.title.clone(), scene.seen_from.clone(), &[]);
    for (layer, kind, width, _) in looks() {
        let items = scene.layers().filter(|(known, _)| *known == layer);
        let look = Layer { kind, width, ..layer.clone() };
        for item in items.flat_map(|(_, items)| items) {
            paper.add(&look, item.clone());
        }
    }
    paper
}

/// Whether a layer holds points: they are told by their place where no tile shows them.
pub(super) fn is_points(layer: &Layer) -> bool {
    [&layers::METAL, &layers::SCREWS, &layers::HOLES].iter().any(|known| known.name == layer.name)
}

/// What a layer is called beside its lines.
pub(super) fn words(layer: &Layer) -> &'static str {
    looks().find(|(known, ..)| known.name == layer.name).map_or("", |(.., words)| words)
}
