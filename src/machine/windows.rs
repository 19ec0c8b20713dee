//! A sash larger than the machine's travel is placed on the machine several times, one set-up each: windows of
//! the sash, no larger than the travel, that cover every path of the cutter's centre and overlap.
//!
//! Each set-up cuts its window to the full depth before the sash is moved on. Beyond an edge that it
//! shares with a neighbour whose turn comes later the wood is untouched: there each later round of cuts ends
//! short of the one before, since the one before leaves wood between the ends of its loops, and beyond
//! the last loop that runs along the window's edge. An edge shared with one that was before lies where that has cut
//! to its own full depth; so no cut meets more wood than it would in one place. A lane that lies whole where one was
//! before is not cut again.

use super::order::{row_by_row, with_last};
use super::place::{FREE, ROUNDED};
use super::split::View;
use crate::geometry::{COINCIDENT, Edge, Outline};
use crate::passes::{Cut, Pass, Strip};
use crate::sash::PlacedBar;
use crate::survey::{Runs, Workshop};
use kurbo::Rect;

/// How far a window reaches past the outermost paths, mm.
const PAST: f64 = 1.0;

/// Overlap of what neighbours cut last, in cutter diameters: half a radius reaches past the wood between the round ends of
/// loops, the rest is for a sash that was put down a little off (common practice, no source). With the second, edges fall
/// elsewhere, where with the first something stops.
pub(super) const OVERLAPS: [f64; 2] = [1.0, 2.0];

/// How much shorter each round of cuts is at the least than the one before, in cutter radii. Loops are at
/// most 0.854 diameters apart, so the wood between their round ends reaches back 1 − √(1 − 0.854²) = 0.48
/// radii.
const SHORTER: f64 = 0.5;

/// Most set-ups along one axis that anyone would carry out.
const MOST: u32 = 20;

/// The stretches along one axis, from and to, in order.
type Spans = Vec<(f64, f64)>;

/// How spans may lie: no longer than that, each overlapping the next by so much, of which one edge or the other moves by
/// `moved` from round to round.
#[derive(Debug, Clone, Copy)]
struct Wanted {
    longest: f64,
    overlap: f64,
    moved: f64,
}

impl Wanted {
    /// Covers `from` to `to` by `more` than as few spans as will do, as evenly as may be: an edge that would fall into
    /// one of `bars`, from and to, lies before or behind that, if there is room.
    fn spans(&self, (from, to): (f64, f64), more: u32, bars: &[(f64, f64)]) -> Option<Spans> {
        let mut planned = self.fewest(to - from)? + more;
        let (mut spans, mut start) = (Vec::new(), from);
        loop {
            let left = planned.max(self.fewest(to - start)?);
            if left <= 1 {
                spans.push((start, to));
                return Some(spans);
            }
            let each = (to - start + f64::from(left - 1) * self.overlap) / f64::from(left);
            let end = self.clear_of(bars, start, start + each);
            spans.push((start, end));
            (start, planned) = (end - self.overlap, left - 1);
        }
    }

    /// How many spans cover that length at the least; none where that is more than anyone would carry out.
    fn fewest(&self, length: f64) -> Option<u32> {
        (1..=MOST).find(|&count| {
            let count = f64::from(count);
            count * self.longest - (count - 1.0) * self.overlap >= length
        })
    }

    /// The last place up to `end` where a span that begins at `start` may end and the next begin; `end` itself where
    /// there is none.
    fn clear_of(&self, bars: &[(f64, f64)], start: f64, end: f64) -> f64 {
        let Wanted { overlap, moved, .. } = *self;
        let edges = |end: f64| [(end - overlap, end - overlap + moved), (end - moved, end)];
        let clear = |end: f64| {
            let misses =
                |(from, to): (f64, f64)| bars.iter().all(|bar| to <= bar.0 || from >= bar.1);
            edges(end).into_iter().all(misses)
        };
        // Just before a bar or just behind it, with one of the edges or the other.
        let beside = bars
            .iter()
            .flat_map(|bar| [bar.0, bar.0 + overlap - moved, bar.1 + moved, bar.1 + overlap]);
        let all = beside.chain([end]).filter(|at| *at <= end && *at >= start + 2.0 * overlap);
        all.filter(|at| clear(*at)).reduce(f64::max).unwrap_or(end)
    }
}

/// The windows of a sash.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Windows {
    x: Spans,
    y: Spans,
    /// How much shorter each round is than the one before, mm.
    shorter: f64,
    /// Places in the order of the work.
    places: Vec<(usize, usize)>,
}

impl Windows {
    /// Windows over `paths` for that many rounds of cuts, with `more` along X and Y than it takes, which overlap by so many
    /// cutters.
    ///
    /// # Errors
    /// For X and Y, the least travel that would do, mm, where the machine has less.
    pub(super) fn new(
        paths: Rect,
        rounds: u32,
        (more, overlap): ([u32; 2], f64),
        (bars, workshop): (&[PlacedBar], &Workshop),
    ) -> Result<Windows, [f64; 2]> {
        // The last loop along an edge lies up to one step sideways inside it.
        let step = workshop.lane();
        let shorter = step.max(SHORTER * workshop.cutter.radius());
        let moved = f64::from(rounds.saturating_sub(1)) * shorter;
        let overlap = overlap * workshop.cutter.diameter + moved;
        let all = paths.inflate(PAST, PAST);
        let [travel_x, travel_y] = workshop.machine.bed.map(|travel| travel - 2.0 * FREE - ROUNDED);
        let beside = workshop.cutter.radius();
        let spans = |ends, longest, more, runs| {
            let wanted = Wanted { longest, overlap, moved };
            wanted.spans(ends, more, &bands(bars, runs, beside))
        };
        let x = spans((all.x0, all.x1), travel_x, more[0], Runs::Upright);
        let y = spans((all.y0, all.y1), travel_y, more[1], Runs::Cross);
        // As many as anyone would carry out, each as short as they then may be.
        let least = |length: f64| {
            let most = f64::from(MOST);
            (length + (most - 1.0) * overlap) / most + 2.0 * FREE + ROUNDED
        };
        match (x, y) {
            (Some(x), Some(y)) => {
                let places = row_by_row(x.len(), y.len());
                Ok(Windows { x, y, shorter, places })
            }
            _ => Err([least(all.width()), least(all.height())]),
        }
    }

    /// The same with those places last that are `last` by their windows.
    pub(super) fn with_last(mut self, last: impl Fn(Rect) -> bool) -> Windows {
        // In the first round a window does not depend on which comes before it.
        let places = std::mem::take(&mut self.places);
        let places = with_last(places, |place| last(self.window(place, 0)));
        Windows { places, ..self }
    }

    /// In the order of the work.
    pub(super) fn places(&self) -> &[(usize, usize)] {
        &self.places
    }

    /// The window of a place in that round, counted from 0.
    pub(super) fn window(&self, place: (usize, usize), round: u32) -> Rect {
        let by = f64::from(round) * self.shorter;
        let turn = |of: (usize, usize)| self.places.iter().position(|other| *other == of);
        // Towards a neighbour whose turn comes later; nothing lies beyond the outer ends.
        let moved = |neighbour: Option<(usize, usize)>| {
            let later = neighbour.and_then(turn).zip(turn(place));
            if later.is_some_and(|(neighbour, own)| neighbour > own) { by } else { 0.0 }
        };
        let (column, row) = place;
        let left = column.checked_sub(1).map(|column| (column, row));
        let below = row.checked_sub(1).map(|row| (column, row));
        let span =
            |spans: &[(f64, f64)], index: usize| spans.get(index).copied().unwrap_or_default();
        let ((x0, x1), (y0, y1)) = (span(&self.x, column), span(&self.y, row));
        let (right, above) = (Some((column + 1, row)), Some((column, row + 1)));
        Rect::new(x0 + moved(left), y0 + moved(below), x1 - moved(right), y1 - moved(above))
    }

    /// Whether an edge between two windows falls along one of the bars in any of so many rounds: what is cut of that
    /// bar in one window borders on what stands of it in the next, and is a slot all along.
    pub(super) fn part_lengthwise(&self, bars: &[PlacedBar], rounds: u32, beside: f64) -> bool {
        let moved = f64::from(rounds.saturating_sub(1)) * self.shorter;
        [(Runs::Upright, &self.x), (Runs::Cross, &self.y)].into_iter().any(|(runs, spans)| {
            let inner = spans.iter().skip(1).map(|(from, _)| (*from, from + moved));
            let ends = spans.iter().rev().skip(1).map(|(_, to)| (to - moved, *to));
            let bars = bands(bars, runs, beside);
            inner.chain(ends).any(|(from, to)| bars.iter().any(|bar| from < bar.1 && to > bar.0))
        })
    }

    /// What is seen from a place in that round; none where nothing of the window is left.
    pub(super) fn view(&self, place: (usize, usize), round: u32, clear: f64) -> Option<View> {
        let others = self.places.iter().filter(|other| **other != place);
        let others = others.map(|other| self.window(*other, round)).collect();
        let window = self.window(place, round);
        let left = window.x0 < window.x1 && window.y0 < window.y1;
        let window = Outline::rectangle(window).ok().filter(|_| left)?;
        Some(View { window, others, clear })
    }
}

/// From and to of the bars that run that way, with so much beside them, mm.
fn bands(bars: &[PlacedBar], runs: Runs, beside: f64) -> Vec<(f64, f64)> {
    let bars = bars.iter().filter(|bar| bar.is_square() && bar.measured.runs == runs);
    let band = |bar: &PlacedBar| {
        let (half, middle) = (bar.measured.width / 2.0 + beside, bar.path.at(0.5));
        let at = match runs {
            Runs::Upright => middle.x,
            Runs::Cross => middle.y,
        };
        (at - half, at + half)
    };
    bars.map(band).collect()
}

/// The round of each pass. In a stage, what lies across what was cut before comes one round later, and so
/// does a pass whose loops lie elsewhere than those of the pass before at the same place: from then on each
/// goes deeper where it has been itself.
pub(super) fn rounds(passes: &[Pass]) -> Vec<u32> {
    let mut rounds: Vec<u32> = Vec::new();
    let mut stage = None;
    let mut base = 0;
    let mut before: Vec<(&Pass, u32)> = Vec::new();
    for pass in passes {
        let next = rounds.iter().max().map_or(0, |last| last + 1);
        if stage != Some(pass.stage) {
            base = next;
            before.clear();
            stage = Some(pass.stage);
        }
        let last = before.iter().rev().find(|(last, _)| last.place == pass.place);
        let clear = |(other, _): &&(&Pass, u32)| keeps_clear(&other.cut, &pass.cut);
        let across = before.iter().filter(|other| !clear(other)).map(|(_, round)| *round).max();
        let later = |round: u32| across.is_none_or(|across| round > across);
        let like = before.iter().filter(clear).find(|(_, round)| later(*round));
        let round = match (last, like) {
            (Some((last, round)), _) if last.cut == pass.cut => *round,
            (None, Some((_, round))) => *round,
            (None, None) if before.is_empty() => base,
            _ => next,
        };
        before.push((pass, round));
        rounds.push(round);
    }
    rounds
}

/// Whether two cuts never meet: rings of different units, bars side by side.
fn keeps_clear(a: &Cut, b: &Cut) -> bool {
    match (a, b) {
        (Cut::Ring(_), Cut::Ring(_)) | (Cut::Clean { .. }, Cut::Clean { .. }) => true,
        (Cut::Strip(Strip { bar: a, .. }), Cut::Strip(Strip { bar: b, .. })) => {
            let straight = |bar: &PlacedBar| matches!(bar.path, Edge::Line(_));
            let turn = a.path.direction(0.0).cross(b.path.direction(0.0));
            a.through && b.through && straight(a) && straight(b) && turn.abs() <= COINCIDENT
        }
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{MinMax, PerSide, Sided};
    use crate::passes::{Ring, Stage, TimberLeft};
    use crate::sash::tests::placed;
    use approx::assert_relative_eq;
    use kurbo::Point;

    // Closed form: 2002 mm of paths with their millimetre at each end over 1189 mm, 12 mm overlap in one
    // round: two of (2002 + 12)/2 = 1007, the second 995 further on.
    #[test]
    fn two_windows_cover_a_long_sash_evenly() {
        let mut workshop = Workshop::default();
        workshop.machine.bed = [1200.0, 1000.0];
        let windows = Windows::new(
            Rect::new(0.0, 0.0, 2000.0, 900.0),
            1,
            ([0, 0], OVERLAPS[0]),
            (&[], &workshop),
        )
        .unwrap();
        assert_eq!(windows.places(), [(0, 0), (1, 0)]);
        let [left, right] = [0, 1].map(|column| windows.window((column, 0), 0));
        let close = |a: Rect, b: Rect| {
            for (a, b) in [(a.x0, b.x0), (a.y0, b.y0), (a.x1, b.x1), (a.y1, b.y1)] {
                assert_relative_eq!(a, b, epsilon = 1e-9);
            }
        };
        close(left, Rect::new(-1.0, -1.0, 1006.0, 901.0));
        close(right, Rect::new(994.0, -1.0, 2001.0, 901.0));
    }

    // Two rounds, each one step of half of 12 mm shorter; then a cutter of 12 mm is what overlaps.
    #[test]
    fn later_rounds_end_short_of_a_later_neighbour_only() {
        let mut workshop = Workshop::default();
        workshop.machine.bed = [1200.0, 1000.0];
        let windows = Windows::new(
            Rect::new(0.0, 0.0, 2000.0, 900.0),
            3,
            ([0, 0], OVERLAPS[0]),
            (&[], &workshop),
        )
        .unwrap();
        assert_relative_eq!(workshop.cutting.side_step, 0.5);
        let ends = |windows: &Windows| {
            let of = |column| [0, 2].map(|round| windows.window((column, 0), round));
            let ([left, left_last], [right, right_last]) = (of(0), of(1));
            assert_eq!((left.x0, left.y0, left.y1), (left_last.x0, left_last.y0, left_last.y1));
            assert_eq!((right.x1, right.y0, right.y1), (right_last.x1, right.y0, right.y1));
            assert_relative_eq!(left_last.x1 - right_last.x0, 12.0, epsilon = 1e-9);
            [left.x1 - left_last.x1, right_last.x0 - right.x0]
        };
        assert_eq!(ends(&windows), [12.0, 0.0]);
        // The other way round where the left one is cut last.
        let turned = windows.with_last(|window| window.x0 < 0.0);
        assert_eq!(turned.places(), [(1, 0), (0, 0)]);
        assert_eq!(ends(&turned), [0.0, 12.0]);
    }

    // By hand, from the two windows above: the edges between them at 994 and 1006. An upright bar 20 mm wide and 6 mm beside it count from 16 mm off its middle.
    #[test]
    fn an_edge_may_fall_along_a_bar() {
        let mut workshop = Workshop::default();
        workshop.machine.bed = [1200.0, 1000.0];
        let windows = |rounds| {
            Windows::new(
                Rect::new(0.0, 0.0, 2000.0, 900.0),
                rounds,
                ([0, 0], OVERLAPS[0]),
                (&[], &workshop),
            )
            .unwrap()
        };
        let upright = |x: f64| {
            let path = Edge::line(Point::new(x, -50.0), Point::new(x, 950.0));
            PlacedBar { through: true, ..placed(0, path, 20.0) }
        };
        for (x, along) in
            [(977.0, false), (979.0, true), (1000.0, true), (1021.0, true), (1023.0, false)]
        {
            assert_eq!(windows(1).part_lengthwise(&[upright(x)], 1, 6.0), along, "{x}");
        }
        let level = Edge::line(Point::new(2050.0, 450.0), Point::new(-50.0, 450.0));
        let mut cross = placed(0, level, 20.0);
        cross.measured.runs = Runs::Cross;
        assert!(!windows(1).part_lengthwise(&[cross], 1, 6.0));
    }

    // By hand, from the same windows: their even edges, at 994 and 1006, lie in a bar of 20 mm at 1000 and the 6 mm beside
    // it, from 984 to 1016; the first window ends before it, and the second begins the overlap of 12 mm before that.
    #[test]
    fn edges_keep_clear_of_bars_where_there_is_room() {
        let mut workshop = Workshop::default();
        workshop.machine.bed = [1200.0, 1000.0];
        let path = Edge::line(Point::new(1000.0, -50.0), Point::new(1000.0, 950.0));
        let bar = PlacedBar { through: true, ..placed(0, path, 20.0) };
        let all = Rect::new(0.0, 0.0, 2000.0, 900.0);
        let beside = |bars: &[PlacedBar]| {
            Windows::new(all, 1, ([0, 0], OVERLAPS[0]), (bars, &workshop)).unwrap()
        };
        assert!(beside(&[]).part_lengthwise(std::slice::from_ref(&bar), 1, 6.0));
        let windows = beside(std::slice::from_ref(&bar));
        assert!(!windows.part_lengthwise(&[bar], 1, 6.0));
        let [first, second] = [0, 1].map(|column| windows.window((column, 0), 0));
        assert_relative_eq!(first.x1, 984.0);
        assert_relative_eq!(first.x1 - second.x0, 12.0, epsilon = 1e-9);
        assert_eq!((first.x0, second.x1), (-1.0, 2001.0));
    }

    #[test]
    fn a_travel_shorter_than_the_overlap_covers_nothing() {
        let mut workshop = Workshop::default();
        workshop.machine.bed = [30.0, 1000.0];
        let [x, _] = Windows::new(
            Rect::new(0.0, 0.0, 2000.0, 900.0),
            1,
            ([0, 0], OVERLAPS[0]),
            (&[], &workshop),
        )
        .unwrap_err();
        workshop.machine.bed = [x, 1000.0];
        assert!(
            Windows::new(
                Rect::new(0.0, 0.0, 2000.0, 900.0),
                1,
                ([0, 0], OVERLAPS[0]),
                (&[], &workshop)
            )
            .is_ok()
        );
    }

    // By hand: two upright bars side by side share a round, the cross bar and the ring lie across them, and
    // a wider strip has its loops elsewhere.
    #[test]
    fn what_lies_across_or_elsewhere_comes_a_round_later() {
        let line = |x: f64, y: f64| Edge::line(Point::ZERO, Point::new(x, y));
        let bar = |index, path| placed(index, path, 20.0);
        let bars = [bar(0, line(0.0, 500.0)), bar(1, line(0.0, 700.0)), bar(2, line(400.0, 0.0))];
        let pass = |place: &str, stage, cut| Pass {
            stage,
            place: place.into(),
            cut,
            from_depth: 0.0,
            to_depth: 3.0,
            left: TimberLeft { under: 20.0, beside: None },
        };
        let square = Outline::rectangle(Rect::new(0.0, 0.0, 9.0, 9.0)).unwrap();
        let strip = |bar: usize, width: f64| {
            let place = format!("bar {bar}");
            let strip = Strip { bar: bars[bar].clone(), width, reach: square.clone() };
            let cut = Cut::Strip(strip);
            pass(&place, Stage::Deepen, cut)
        };
        let ring = |stage| {
            let cut = Cut::Ring(Ring {
                unit: 0,
                sight: Sided::by_direction(square.clone()),
                wall: Sided::by_direction(square.clone()),
                from: PerSide::all(MinMax::even(0.0)),
                to: PerSide::all(MinMax::even(14.0)),
                widest: 14.0,
            });
            pass("whole sash", stage, cut)
        };
        let passes = [
            ring(Stage::Widen),
            strip(0, 20.0),
            strip(1, 20.0),
            strip(2, 20.0),
            ring(Stage::Deepen),
            strip(0, 20.0),
            ring(Stage::Deepen),
            strip(0, 24.0),
        ];
        assert_eq!(rounds(&passes), [0, 1, 1, 2, 3, 1, 3, 4]);
        // A bar with a deeper platform is cut first where the ring has been before.
        let deeper = [strip(0, 20.0), ring(Stage::Deepen), strip(1, 20.0), strip(0, 20.0)];
        assert_eq!(rounds(&deeper), [0, 1, 2, 0]);
    }
}
