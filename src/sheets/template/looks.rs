//! How each line of a template looks on paper, and what it is called there: told apart without colour.

use crate::drawing::{Layer, LineKind, LineWidth, Scene};
use crate::sheets::layers;

/// What is drawn on paper: a layer, its kind and width of line, and the key of its name beside the line. Those that are cut by
/// come first.
const LOOKS: [(&Layer, LineKind, LineWidth, &str); 12] = [
    (&layers::APERTURE, LineKind::Chain, LineWidth::W050, "line-cut-here"),
    (&layers::STRAIGHTEDGE, LineKind::Chain, LineWidth::W050, "line-straightedge"),
    (&layers::NEW_REBATE, LineKind::Continuous, LineWidth::W070, "line-new-rebate"),
    (&layers::SIGHT, LineKind::Continuous, LineWidth::W018, "line-sight-edge"),
    (&layers::OLD_REBATE, LineKind::Dashed, LineWidth::W025, "line-old-rebate"),
    (&layers::UNIT, LineKind::DoubleChain, LineWidth::W025, "line-unit"),
    (&layers::CHISEL, LineKind::Continuous, LineWidth::W025, "line-chisel"),
    (&layers::METAL, LineKind::Continuous, LineWidth::W025, "line-metal"),
    (&layers::SCREWS, LineKind::Dashed, LineWidth::W018, "line-screw"),
    (&layers::HOLES, LineKind::Continuous, LineWidth::W025, "line-hole"),
    (&layers::TIMBER, LineKind::Continuous, LineWidth::W035, "line-outer-edge"),
    (&layers::PLATE, LineKind::Spaced, LineWidth::W035, "line-plate"),
];

/// The lines of a sash as they are printed. Edges of bars are sight edges, and blocks are placed by their table.
pub(super) fn on_paper(scene: &Scene) -> Scene {
    let mut paper = Scene::new(scene.title.clone(), scene.seen_from.clone(), &[]);
    for (layer, kind, width, _) in LOOKS {
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

/// What a layer is called beside its lines, by its key.
pub(super) fn key(layer: &Layer) -> &'static str {
    LOOKS.into_iter().find(|(known, ..)| known.name == layer.name).map_or("", |(.., key)| key)
}
