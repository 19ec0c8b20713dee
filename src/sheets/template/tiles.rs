//! A large drawing cut into tiles that fit the paper.

use crate::geometry::{Edge, Outline};
use kurbo::{Point, Rect, Size};

/// A piece of an edge shorter than this in a tile is not worth a sheet, mm.
const SHORTEST: f64 = 0.1;
/// Where the two marks of a seam lie along it.
const MARKS_AT: [f64; 2] = [0.2, 0.8];

/// One tile.
#[derive(Debug, Clone, PartialEq)]
pub struct Tile {
    /// Column from the left and row from the top, from 0.
    pub column: usize,
    /// See `column`.
    pub row: usize,
    /// What it shows of the drawing.
    pub window: Rect,
}

impl Tile {
    /// A letter for the column, a number for the row: `B3`.
    pub fn name(&self) -> String {
        let mut letters = String::new();
        let mut rest = self.column;
        loop {
            let letter = u8::try_from(rest % 26).map_or('A', |n| char::from(b'A' + n));
            letters.insert(0, letter);
            if rest < 26 {
                return format!("{letters}{}", self.row + 1);
            }
            rest = rest / 26 - 1;
        }
    }
}

/// Where two tiles are joined.
#[derive(Debug, Clone, PartialEq)]
pub struct Seam {
    /// Both tiles, by their place in [`Tiling::tiles`].
    pub tiles: [usize; 2],
    /// Middle of what both show, from end to end.
    pub line: [Point; 2],
    /// How far the tiles overlap, mm.
    pub overlap: f64,
    /// The marks on both.
    pub marks: [Point; 2],
}

/// A drawing in tiles.
#[derive(Debug, Clone, PartialEq)]
pub struct Tiling {
    /// Columns and rows of the whole grid.
    pub columns: usize,
    /// See `columns`.
    pub rows: usize,
    /// Tiles that carry lines, row by row from the top.
    pub tiles: Vec<Tile>,
    /// Seams between them; a seam is called by its place in the list, from 1.
    pub seams: Vec<Seam>,
}

impl Tiling {
    /// Cuts what lies in `drawing` into windows of `size` that overlap by at least `overlap`. Windows
    /// are spread evenly, so that the first and the last end where the drawing does.
    pub fn new(drawing: Rect, size: Size, overlap: f64, edges: &[Edge]) -> Tiling {
        let across = spread(drawing.x0, drawing.x1, size.width, overlap);
        // Rows are counted from the top.
        let mut up = spread(drawing.y0, drawing.y1, size.height, overlap);
        up.reverse();
        let mut tiles = Vec::new();
        for (row, &y) in up.iter().enumerate() {
            for (column, &x) in across.iter().enumerate() {
                let window = Rect::from_origin_size(Point::new(x, y), size);
                if edges.iter().any(|edge| runs_through(edge, window)) {
                    tiles.push(Tile { column, row, window });
                }
            }
        }
        let seams = seams(&tiles);
        Tiling { columns: across.len(), rows: up.len(), tiles, seams }
    }
}

/// Where windows of `size` begin that together show `from` to `to`.
fn spread(from: f64, to: f64, size: f64, overlap: f64) -> Vec<f64> {
    let length = to - from;
    if length <= size {
        return vec![f64::midpoint(from, to) - size / 2.0];
    }
    // Overlap is far less than a window, so the step is positive.
    let step = (size - overlap).max(1.0);
    let mut count = 2_u32;
    while f64::from(count - 1) * step + size < length {
        count += 1;
    }
    let even = (length - size) / f64::from(count - 1);
    (0..count).map(|index| from + f64::from(index) * even).collect()
}

fn seams(tiles: &[Tile]) -> Vec<Seam> {
    let mut seams = Vec::new();
    for (index, tile) in tiles.iter().enumerate() {
        for (other_index, other) in tiles.iter().enumerate() {
            let beside = other.row == tile.row && other.column == tile.column + 1;
            let below = other.column == tile.column && other.row == tile.row + 1;
            if !(beside || below) {
                continue;
            }
            let shared = tile.window.intersect(other.window);
            let middle = shared.center();
            let line = if beside {
                [Point::new(middle.x, shared.y1), Point::new(middle.x, shared.y0)]
            } else {
                [Point::new(shared.x0, middle.y), Point::new(shared.x1, middle.y)]
            };
            let [from, to] = line;
            seams.push(Seam {
                tiles: [index, other_index],
                line,
                overlap: if beside { shared.width() } else { shared.height() },
                marks: MARKS_AT.map(|share| from.lerp(to, share)),
            });
        }
    }
    seams
}

/// Whether a piece of `edge` lies in `window`.
pub(super) fn runs_through(edge: &Edge, window: Rect) -> bool {
    let enough = SHORTEST.min(edge.length() / 2.0);
    match edge {
        Edge::Line(line) => length_inside(line.p0, line.p1, window) > enough,
        Edge::Arc(_) => {
            // Asked thousands of times, so far off and well inside are told by the middle alone.
            let away = edge.distance_to(window.center());
            let (near, far) =
                (window.size().min_side() / 2.0, window.size().to_vec2().hypot() / 2.0);
            if away > far {
                return false;
            }
            if away < near - SHORTEST && edge.length() > 2.0 * SHORTEST {
                return true;
            }
            let Ok(frame) = Outline::rectangle(window) else { return false };
            frame.stretches_inside(edge).iter().map(Edge::length).sum::<f64>() > enough
        }
    }
}

/// Length of the straight line from `a` to `b` inside `window`, mm (Liang and Barsky 1984).
fn length_inside(a: Point, b: Point, window: Rect) -> f64 {
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    let along = b - a;
    let bounds = [
        (-along.x, a.x - window.x0),
        (along.x, window.x1 - a.x),
        (-along.y, a.y - window.y0),
        (along.y, window.y1 - a.y),
    ];
    for (towards, room) in bounds {
        if towards == 0.0 {
            if room < 0.0 {
                return 0.0;
            }
        } else if towards < 0.0 {
            from = from.max(room / towards);
        } else {
            to = to.min(room / towards);
        }
    }
    (to - from).max(0.0) * along.hypot()
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn frame(rect: Rect) -> Vec<Edge> {
        crate::geometry::Outline::rectangle(rect).unwrap().edges().to_vec()
    }

    #[test]
    fn windows_end_where_the_drawing_does_and_overlap_enough() {
        let drawing = Rect::new(-60.0, -80.0, 674.0, 881.0);
        let tiling = Tiling::new(drawing, Size::new(194.0, 255.0), 15.0, &frame(drawing));
        assert_eq!((tiling.columns, tiling.rows), (5, 4));
        // Nothing runs through the middle of a frame: 5 × 4 less 3 × 2.
        assert_eq!(tiling.tiles.len(), 14);
        let first = tiling.tiles.first().unwrap();
        assert_relative_eq!(first.window.x0, -60.0);
        assert_relative_eq!(first.window.y1, 881.0);
        assert!(tiling.seams.iter().all(|seam| seam.overlap >= 15.0 - 1e-9));
        // A ring of tiles has as many seams as tiles.
        assert_eq!(tiling.seams.len(), 14);
        for seam in &tiling.seams {
            for mark in seam.marks {
                assert!(seam.tiles.iter().all(|&index| tiling.tiles[index].window.contains(mark)));
            }
        }
    }

    #[test]
    fn a_small_drawing_is_one_tile_in_the_middle() {
        let drawing = Rect::new(0.0, 0.0, 100.0, 100.0);
        let tiling = Tiling::new(drawing, Size::new(200.0, 200.0), 15.0, &frame(drawing));
        assert_eq!(tiling.tiles.len(), 1);
        assert_eq!(tiling.tiles[0].window.center(), drawing.center());
        assert!(tiling.seams.is_empty());
    }

    #[test]
    fn columns_are_called_by_letters_past_the_alphabet() {
        let name = |column| Tile { column, row: 0, window: Rect::ZERO }.name();
        assert_eq!(
            [0, 25, 26, 51, 52, 701, 702].map(name),
            ["A1", "Z1", "AA1", "AZ1", "BA1", "ZZ1", "AAA1"]
        );
    }

    #[test]
    fn a_line_that_only_touches_a_window_does_not_run_through_it() {
        let window = Rect::new(0.0, 0.0, 10.0, 10.0);
        let line = |a, b| runs_through(&Edge::line(a, b), window);
        assert!(line(Point::new(-5.0, 5.0), Point::new(15.0, 5.0)));
        assert!(!line(Point::new(-5.0, 5.0), Point::new(5.0, 15.0)));
        assert!(!line(Point::new(-5.0, 11.0), Point::new(15.0, 11.0)));
        assert!(!line(Point::new(10.0, 5.0), Point::new(20.0, 5.0)));
    }

    // Against chords of a thousandth of the arc.
    #[test]
    fn an_arc_runs_through_where_its_chords_do() {
        let window = Rect::new(-30.0, -20.0, 30.0, 20.0);
        for step in 0..400 {
            let x = f64::from(step % 20) * 7.0 - 70.0;
            let y = f64::from(step / 20) * 7.0 - 70.0;
            let arc = Edge::Arc(crate::geometry::Arc {
                centre: Point::new(x, y),
                radius: 11.0 + f64::from(step % 7) * 9.0,
                start: f64::from(step),
                sweep: 1.0 + f64::from(step % 5),
            });
            let piece = |k: u32| arc.at(f64::from(k) / 1000.0);
            let inside: f64 =
                (0..1000).map(|k| length_inside(piece(k), piece(k + 1), window)).sum();
            if (inside - SHORTEST).abs() > 0.01 {
                assert_eq!(runs_through(&arc, window), inside > SHORTEST, "{arc:?}");
            }
        }
    }
}
