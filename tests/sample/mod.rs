//! A scene that holds every kind of item, for the tests of the pens.

#![allow(dead_code, missing_docs, unreachable_pub, reason = "the benchmark takes what it needs")]

use fillister::drawing::{
    Across, Colour, Dimension, Figures, Hatch, Item, Layer, LineKind, LineWidth, Scene, Text, Up,
};
use fillister::geometry::{Arc, Edge, Join, Outline, Region};
use kurbo::{Point, Rect};
use std::f64::consts::{PI, TAU};

pub(crate) const OLD: Layer =
    Layer::new("old rebate", Colour::Grey, LineKind::Dashed, LineWidth::W025);
pub(crate) const NEW: Layer =
    Layer::new("new rebate", Colour::Red, LineKind::Continuous, LineWidth::W050);
pub(crate) const BARS: Layer = Layer::new("bars", Colour::Blue, LineKind::Chain, LineWidth::W025);
pub(crate) const TIMBER: Layer =
    Layer::new("timber", Colour::Brown, LineKind::Continuous, LineWidth::W018);
pub(crate) const WORDS: Layer =
    Layer::new("words", Colour::Black, LineKind::Continuous, LineWidth::W025);

/// Texts with accents, Greek, Cyrillic, and everything that an escape could trip over.
pub(crate) const TEXTS: [&str; 7] = [
    "Fenêtre à guillotine, Küche",
    "Παράθυρο κουζίνας",
    "Окно на кухне, 12 × 14 мм",
    "a\\b \\U+0041",
    "100 % and 50%%d",
    "<&\"'> ^ ^J",
    "  blanks  ",
];

/// A light with an arched head.
pub(crate) fn arched() -> Outline {
    let arch = Arc::from_bulge(Point::new(800.0, 900.0), Point::new(0.0, 900.0), 0.25).unwrap();
    Outline::new(vec![
        Edge::line(Point::ZERO, Point::new(800.0, 0.0)),
        Edge::line(Point::new(800.0, 0.0), Point::new(800.0, 900.0)),
        Edge::Arc(arch),
        Edge::line(Point::new(0.0, 900.0), Point::ZERO),
    ])
    .unwrap()
}

/// An outline with an arc of more than half a turn.
pub(crate) fn keyhole() -> Outline {
    let (centre, radius) = (Point::new(400.0, 400.0), 30.0);
    let arc = Arc { centre, radius, start: -0.4 * PI, sweep: 1.8 * PI };
    let (from, to) = (Edge::Arc(arc).end(), Edge::Arc(arc).start());
    let foot = Point::new(400.0, 300.0);
    Outline::new(vec![Edge::Arc(arc), Edge::line(from, foot), Edge::line(foot, to)]).unwrap()
}

/// The scene.
pub(crate) fn scene() -> Scene {
    let layers = [OLD, NEW, BARS, TIMBER, WORDS];
    let mut scene = Scene::new("kitchen-1", "seen from the glazing face", &layers);
    let light = arched();
    let wall = light.offset(14.0, Join::Round).unwrap();
    let region = Region {
        outline: light.offset(60.0, Join::Sharp).unwrap(),
        holes: vec![light.offset(14.0, Join::Sharp).unwrap()],
    };
    scene.add(&TIMBER, Item::Hatch(region.clone(), Hatch::Timber));
    scene.add(&TIMBER, Item::Region(region));
    scene.add(&NEW, Item::Outline(wall));
    scene.add(&NEW, Item::Outline(keyhole()));
    scene.add(&OLD, Item::Outline(light));
    scene.add(&BARS, Item::Edge(Edge::line(Point::new(268.0, 0.0), Point::new(268.0, 950.0))));
    let centre = Point::new(268.0, 450.0);
    for (radius, start, sweep) in
        [(20.0, 0.0, TAU), (30.0, 1.0, 2.0), (40.0, 1.0, -2.0), (50.0, -3.0, 5.5)]
    {
        scene.add(&BARS, Item::Edge(Edge::Arc(Arc { centre, radius, start, sweep })));
    }
    for (value, y) in TEXTS.into_iter().zip([100.0, 130.0, 160.0, 190.0, 220.0, 250.0, 280.0]) {
        scene.add(&WORDS, Item::Text(Text::new(value, Point::new(300.0, y), 10.0)));
    }
    let at = Point::new(100.0, 600.0);
    for (across, turn) in [(Across::Left, 0.0), (Across::Centre, 30.0), (Across::Right, 90.0)] {
        for up in [Up::Base, Up::Middle, Up::Top] {
            let text = Text::new("held", at, 8.0).anchored(across, up).turned(turn);
            scene.add(&WORDS, Item::Text(text));
        }
    }
    let sight = Rect::new(0.0, 0.0, 800.0, 900.0);
    let (low, right) = (sight.origin(), Point::new(sight.x1, sight.y0));
    let figures = Figures { height: 10.0, inches: false };
    scene.add(
        &WORDS,
        Item::Dimension(Dimension::across(low, right, -120.0, figures).saying("sight")),
    );
    let high = Point::new(sight.x0, sight.y1);
    scene.add(&WORDS, Item::Dimension(Dimension::upright(low, high, -120.0, figures)));
    scene.add_caption(&WORDS, 12.0);
    scene
}
