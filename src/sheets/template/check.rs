//! The square that proves that a print is at true size.

use crate::drawing::{Across, Item, Scene, Text, Up};
use crate::geometry::{Edge, Outline, OutlineError};
use crate::sheets::kit::{Obstacle, SMALL, Voice, wrapped};
use crate::sheets::layers::{CHECK, WORDS};
use kurbo::{Point, Rect, Size, Vec2};

/// Side of the square, mm.
pub const SIDE: f64 = 100.0;

/// How many lesser things weigh as much as one graver.
pub(super) const GRAVER: usize = 8;
/// Steps in which places are tried, mm.
const STEP: f64 = 4.0;
/// Least distance to anything else, mm.
const AWAY: f64 = 2.0;
/// Places nearer to each other than this are one, mm.
const CLOSE: f64 = 0.05;

/// How far from the middle of the square its words may stand, mm up; the first is best.
const ELSEWHERE: [f64; 3] = [0.0, 28.0, -28.0];

/// Where the square goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Place {
    /// Its lower left corner.
    pub corner: Point,
    /// How far over its middle its words stand, mm.
    pub words: f64,
}

impl Place {
    /// The square itself.
    pub(super) fn square(self) -> Rect {
        Rect::from_origin_size(self.corner, Size::new(SIDE, SIDE))
    }

    /// What it says there.
    fn words(self, voice: Voice) -> Vec<Text> {
        words(self.square().center() + Vec2::new(0.0, self.words), voice)
    }
}

/// Draws the square.
///
/// # Errors
/// None: the square has an area.
pub(super) fn add(
    scene: &mut Scene,
    place: Place,
    said: Option<Voice>,
) -> Result<(), OutlineError> {
    scene.add(&CHECK, Item::Outline(Outline::rectangle(place.square())?));
    let words = said.map(|voice| place.words(voice)).unwrap_or_default();
    scene.add_all(&WORDS, words.into_iter().map(Item::Text));
    Ok(())
}

/// What the square says, about `middle`.
fn words(middle: Point, voice: Voice) -> Vec<Text> {
    let mut y = middle.y + 6.0 * SMALL;
    let title =
        Text::new(voice.said(&voice.word("template-square")), Point::new(middle.x, y), 1.4 * SMALL);
    let mut all = vec![title];
    y -= 3.0 * SMALL;
    for line in wrapped(&voice.said(&voice.word("template-square-how")), SMALL, 0.7 * SIDE) {
        all.push(Text::new(line, Point::new(middle.x, y), SMALL));
        y -= 1.8 * SMALL;
    }
    all.into_iter().map(|text| text.anchored(Across::Centre, Up::Base)).collect()
}

/// Whether the words of a square lie clear of all lines.
pub(super) fn is_clear(place: Place, voice: Voice, lines: &[Obstacle]) -> bool {
    !place.words(voice).iter().any(|text| lines.iter().any(|line| line.runs_through(text.bounds())))
}

/// A line through each of its words.
pub(super) fn said(place: Place, voice: Voice) -> Vec<Obstacle> {
    let lines = place.words(voice).into_iter().map(|text| {
        let all = text.bounds();
        let y = all.center().y;
        Obstacle::new(&Edge::line(Point::new(all.x0, y), Point::new(all.x1, y)))
    });
    lines.collect()
}

/// The four sides of a square.
pub(super) fn sides(place: Place) -> Vec<Obstacle> {
    Outline::rectangle(place.square())
        .map_or_else(|_| Vec::new(), |outline| Obstacle::all(outline.edges()))
}

/// How far a place is from being clear; see [`place`].
pub(super) type Met = usize;

/// A line, and how much it weighs.
type Weighed<'l> = (&'l Obstacle, Met);

/// How much of all that is near an area meets; none where that is `most` or more. What is met goes to the front: it will
/// most likely be met again beside it.
fn met(near: &mut [Weighed], area: Rect, most: Met) -> Option<Met> {
    let (mut sum, mut front) = (0, 0);
    for at in 0..near.len() {
        let Some((line, weight)) = near.get(at) else { continue };
        if line.runs_through(area) {
            sum += weight;
            near.swap(front, at);
            front += 1;
            if sum >= most {
                return None;
            }
        }
    }
    (sum < most).then_some(sum)
}

/// A place in `window` where the words of the square, and then the square itself, meet as few of `lines`
/// as can be; `lesser` ones count only where there is a choice. Among equals it is the lowest, then the
/// leftmost. How much is met there goes with it.
pub(super) fn place<'l>(
    window: Rect,
    voice: Voice,
    lines: &'l [Obstacle],
    lesser: &'l [Obstacle],
) -> (Place, Met) {
    let bounds = || lines.iter().chain(lesser).map(Obstacle::bounds);
    let across = steps(window.x0, window.x1, bounds().flat_map(|all| [all.x0, all.x1]));
    let up = steps(window.y0, window.y1, bounds().flat_map(|all| [all.y0, all.y1]));
    let said = words(Point::ZERO, voice).iter().map(Text::bounds).reduce(|a, b| a.union(b));
    let said = said.unwrap_or_default();
    let mut best = (usize::MAX, Place { corner: window.origin(), words: 0.0 });
    for &y in &up {
        // Only what reaches into this band can meet a square in it.
        let band = Rect::new(window.x0, y, window.x1, y + SIDE).inflate(AWAY, AWAY);
        let weighed = |lines: &'l [Obstacle], weight| lines.iter().map(move |line| (line, weight));
        let mut near: Vec<Weighed> = weighed(lines, GRAVER).chain(weighed(lesser, 1)).collect();
        near.retain(|(line, _)| line.bounds().overlaps(band));
        for &x in &across {
            let corner = Point::new(x, y);
            let square = Rect::from_origin_size(corner, Size::new(SIDE, SIDE));
            // What the square meets is the least that its words can add to.
            let Some(least) = met(&mut near, square.inflate(AWAY, AWAY), best.0) else { continue };
            let mut most = (best.0 - least).div_ceil(GRAVER);
            for words in ELSEWHERE {
                let said = said + square.center().to_vec2() + Vec2::new(0.0, words);
                if let Some(struck) = met(&mut near, said, most) {
                    most = struck;
                    best = (least + GRAVER * struck, Place { corner, words });
                }
            }
            if best.0 == 0 {
                return (best.1, 0);
            }
        }
    }
    (best.1, best.0)
}

/// Places for the lower end of a side between `low` and `high`: in steps, and close to where a line ends or
/// runs, since a gap may be hardly wider than the square.
fn steps(low: f64, high: f64, ends: impl Iterator<Item = f64>) -> Vec<f64> {
    let (first, last) = (low + AWAY, (high - SIDE - AWAY).max(low + AWAY));
    let count = ((last - first) / STEP).floor();
    let mut all = vec![last];
    let mut step = 0.0;
    while step <= count {
        all.push(first + step * STEP);
        step += 1.0;
    }
    let beside = ends.flat_map(|end| [end + AWAY + CLOSE, end - SIDE - AWAY - CLOSE]);
    all.extend(beside.filter(|&at| (first..=last).contains(&at)));
    all.sort_by(f64::total_cmp);
    all.dedup_by(|a, b| (*a - *b).abs() < CLOSE);
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Arc;
    use proptest::prelude::*;

    fn upright(x: f64) -> Obstacle {
        Obstacle::new(&Edge::line(Point::new(x, 0.0), Point::new(x, 250.0)))
    }

    // Between 41.3 and 147 lie 105.7 mm: room for 100 and 2 on either side, but between steps of 4.
    #[test]
    fn a_gap_hardly_wider_than_the_square_is_found() {
        let window = Rect::new(0.0, 0.0, 190.0, 250.0);
        let (Place { corner, words }, _) =
            place(window, Voice::plain(), &[upright(147.0), upright(160.0)], &[upright(41.3)]);
        assert!((43.3..=45.0).contains(&corner.x), "{corner}");
        assert_eq!(words, 0.0);
        // Where there is none, the lesser line is met.
        let (Place { corner, words }, _) =
            place(window, Voice::plain(), &[upright(145.0), upright(160.0)], &[upright(41.3)]);
        assert!(corner.x + SIDE + AWAY <= 145.0 && corner.x < 41.3, "{corner}");
        assert_eq!(words, 0.0);
        assert!(corner.x >= AWAY && corner.y >= AWAY);
    }

    // A level line through the only place of the square leaves its words alone.
    #[test]
    fn the_words_step_aside() {
        let window = Rect::new(0.0, 0.0, 104.0, 104.0);
        let level = |y: f64| Obstacle::new(&Edge::line(Point::new(0.0, y), Point::new(104.0, y)));
        assert_eq!(place(window, Voice::plain(), &[level(20.0)], &[]).0.words, 0.0);
        assert_eq!(place(window, Voice::plain(), &[level(52.0)], &[]).0.words, 28.0);
        assert_eq!(place(window, Voice::plain(), &[level(52.0), level(90.0)], &[]).0.words, -28.0);
    }

    /// Every place asked for everything.
    fn tried(window: Rect, lines: &[Obstacle], lesser: &[Obstacle]) -> Place {
        let bounds = || lines.iter().chain(lesser).map(Obstacle::bounds);
        let across = steps(window.x0, window.x1, bounds().flat_map(|all| [all.x0, all.x1]));
        let up = steps(window.y0, window.y1, bounds().flat_map(|all| [all.y0, all.y1]));
        let said = words(Point::ZERO, Voice::plain())
            .iter()
            .map(Text::bounds)
            .reduce(|a, b| a.union(b))
            .unwrap();
        let met = |area: Rect| {
            let count = |of: &[Obstacle]| of.iter().filter(|line| line.runs_through(area)).count();
            8 * count(lines) + count(lesser)
        };
        let mut all = Vec::new();
        for &y in &up {
            for &x in &across {
                let corner = Point::new(x, y);
                let square = Rect::from_origin_size(corner, Size::new(SIDE, SIDE));
                for words in ELSEWHERE {
                    let said = said + square.center().to_vec2() + Vec2::new(0.0, words);
                    all.push((
                        8 * met(said) + met(square.inflate(AWAY, AWAY)),
                        Place { corner, words },
                    ));
                }
            }
        }
        all.into_iter().min_by_key(|(met, _)| *met).unwrap().1
    }

    fn edge() -> impl Strategy<Value = Obstacle> {
        let place = || (0.0..190.0, 0.0..250.0).prop_map(|(x, y)| Point::new(x, y));
        prop_oneof![
            (place(), place()).prop_map(|(a, b)| Edge::line(a, b)),
            (place(), place()).prop_map(|(a, b)| Edge::line(a, Point::new(a.x, b.y))),
            (place(), place()).prop_map(|(a, b)| Edge::line(a, Point::new(b.x, a.y))),
            (place(), 5.0..200.0, 0.0..6.0, 0.1..6.2).prop_map(|(centre, radius, start, sweep)| {
                Edge::Arc(Arc { centre, radius, start, sweep })
            }),
        ]
        .prop_map(|edge| Obstacle::new(&edge))
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]
        #[test]
        fn leaving_a_place_early_finds_the_place_that_trying_all_finds(
            lines in prop::collection::vec(edge(), 0..7),
            lesser in prop::collection::vec(edge(), 0..3),
        ) {
            let window = Rect::new(0.0, 0.0, 190.0, 250.0);
            prop_assert_eq!(place(window, Voice::plain(), &lines, &lesser).0, tried(window, &lines, &lesser));
        }
    }
}
