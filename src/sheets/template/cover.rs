//! The page before the tiles: what to do with them, where each belongs, and what guides the router.

use super::distances;
use super::tiles::Tiling;
use crate::drawing::{Across, Item, Page, Scene, Text, Up};
use crate::geometry::{Outline, OutlineError, Sided};
use crate::sheets::guide;
use crate::sheets::kit::{Flow, Lettering, Picture, SMALL, reading, tell};
use crate::sheets::layers::{SIGHT, TILES, TIMBER, WORDS};
use crate::sheets::{SheetError, Subject};
use crate::survey::TemplateAs;
use kurbo::{Point, Rect, Size, Vec2};

/// Most of the page that the map takes, mm.
const MAP_HEIGHT: f64 = 95.0;

/// What all tiles show together.
pub(super) fn whole(tiling: &Tiling) -> Rect {
    tiling.tiles.iter().map(|tile| tile.window).reduce(|a, b| a.union(b)).unwrap_or_default()
}

pub(super) fn pages(
    subject: &Subject<'_>,
    scene: &Scene,
    tiling: &Tiling,
) -> Result<Vec<Page>, SheetError> {
    let voice = subject.voice();
    let head = tell!(voice, "template-sheet", house = subject.house, sash = subject.id());
    let foot = voice.word("template-foot");
    let mut flow = Flow::new(voice, reading(&subject.workshop.printer), head, foot);
    flow.heading(&voice.word("template-how"));
    let joins = match tiling.seams.len() {
        0 => voice.word("template-not-joined"),
        last => tell!(voice, "template-joined", last),
    };
    let between = match subject.workshop.printer.template {
        TemplateAs::Whole => voice.word("template-diagonals"),
        TemplateAs::Corners => voice.word("template-between"),
    };
    let steps = [
        voice.word("template-print"),
        voice.word("template-lay"),
        joins,
        voice.word("template-line-up"),
        between,
    ];
    for (index, step) in steps.iter().enumerate() {
        flow.entry(&format!("{}.", index + 1), step);
    }
    flow.heading(&voice.word("template-where"));
    let most = Size::new(flow.width(), MAP_HEIGHT);
    flow.picture(Picture::within(map((subject, scene), tiling, most)?, most));
    distances::table(&mut flow, subject)?;
    distances::points(&mut flow, scene, tiling)?;
    guide::tell(&mut flow, subject)?;
    Ok(flow.pages_before(tiling.tiles.len()))
}

/// The tiles by name over the outlines of the sash, in millimetres of a page that has `most` for them.
fn map(
    (subject, scene): (&Subject<'_>, &Scene),
    tiling: &Tiling,
    most: Size,
) -> Result<Scene, OutlineError> {
    let all = whole(tiling).union(scene.extents());
    let scale = (most.width / all.width()).min((most.height - 4.0 * SMALL) / all.height()).min(1.0);
    let place = |rect: Rect| {
        let corner = |p: Point| (scale * (p - all.origin())).to_point();
        Rect::from_points(corner(rect.origin()), corner(Point::new(rect.x1, rect.y1)))
    };
    let mut map = Scene::new("", "", &[]);
    for layer in [TIMBER, SIGHT] {
        let items = scene.layers().filter(|(known, _)| known.name == layer.name);
        let items = items.flat_map(|(_, items)| items);
        for item in items {
            let Item::Outline(outline) = item else { continue };
            let small = if is_rectangle(outline) {
                Outline::rectangle(place(outline.bounds()))?
            } else {
                outline.moved(-all.origin().to_vec2()).reduced(1.0 / scale)
            };
            map.add(&layer, Item::Outline(small));
        }
    }
    for tile in &tiling.tiles {
        map.add(&TILES, Item::Outline(Outline::rectangle(place(tile.window))?));
    }
    let mut letters = Lettering::round(&map, 1.0, subject.voice());
    for tile in &tiling.tiles {
        // About the middle of its place, where no line strikes it; where there is no room the tile itself has a map.
        let at = place(tile.window);
        let shares = [0.0, 0.1, -0.1, 0.2, -0.2, 0.3, -0.3];
        let places = shares.iter().flat_map(|y| {
            shares.map(|x| (at.center() + Vec2::new(x * at.width(), y * at.height()), 0.0))
        });
        letters.add(&mut map, &WORDS, &tile.name(), &places.collect::<Vec<_>>());
    }
    let top = Point::new(scale * all.width() / 2.0, scale * all.height() + SMALL);
    let words = Text::new(subject.voice().word("template-top-edge"), top, SMALL);
    map.add(&WORDS, Item::Text(words.anchored(Across::Centre, Up::Base)));
    Ok(map)
}

fn is_rectangle(outline: &Outline) -> bool {
    Sided::by_direction(outline.clone()).is_rectangle()
}
