//! Edge stops that a sash is laid against, each touching the wood where it stands, under a curve too.

use crate::geometry::{Edge, Outline};
use kurbo::{Rect, Size};

/// Length along the sash and width of an edge stop, mm. Common practice, no source.
const STOP: Size = Size::new(60.0, 20.0);

/// A lower edge that rises by more than this towards its ends carries the sash nearer its middle, mm.
const RISES: f64 = 20.0;

/// Two under the sash, which serve every set-up of a row, and one beside it, all along what is within
/// reach of the cutter's centre. Under the sash they stand clear of `horns`, which are no edge to lay it against.
pub fn stops(sash: &Outline, reach: Rect, horns: &[Rect]) -> Vec<Rect> {
    let bounds = sash.bounds();
    let (mut from, mut to) = (bounds.x0.max(reach.x0), bounds.x1.min(reach.x1) - STOP.width);
    for horn in horns.iter().filter(|horn| horn.y0 < bounds.y0) {
        if horn.center().x < bounds.center().x {
            from = from.max(horn.x1);
        } else {
            to = to.min(horn.x0 - STOP.width);
        }
    }
    let under = |x: f64| {
        let top = least(sash, Rect::new(x, bounds.y0, x + STOP.width, bounds.y1), |b| b.y0);
        Rect::new(x, top - STOP.height, x + STOP.width, top)
    };
    let at = |share: f64| under(from + share * (to - from).max(0.0));
    let ends = [at(0.0), at(1.0)];
    let level = ends.iter().all(|stop| stop.y1 - bounds.y0 <= RISES);
    let lower = if level { ends } else { [at(0.25), at(0.75)] };
    // At the end that overhangs less.
    let left = reach.x0 - bounds.x0 <= bounds.x1 - reach.x1;
    let beside = |y: f64| {
        let strip = Rect::new(bounds.x0, y, bounds.x1, y + STOP.width);
        let x = if left {
            least(sash, strip, |b| b.x0) - STOP.height
        } else {
            -least(sash, strip, |b| -b.x1)
        };
        Rect::new(x, y, x + STOP.height, y + STOP.width)
    };
    let (low, high) = (bounds.y0.max(reach.y0), bounds.y1.min(reach.y1) - STOP.width);
    let places = [low, f64::midpoint(low, high), high].map(|y| beside(y.max(low)));
    // Where the sash is widest, and low where that is the same.
    let out = |stop: &Rect| if left { stop.x1 - bounds.x0 } else { bounds.x1 - stop.x0 };
    let [first, others @ ..] = places;
    let widest = others
        .into_iter()
        .fold(first, |best, stop| if out(&stop) < out(&best) - 1.0 { stop } else { best });
    lower.into_iter().chain([widest]).collect()
}

/// The least of a bound of what of the outline lies in a strip.
fn least(outline: &Outline, strip: Rect, of: impl Fn(Rect) -> f64) -> f64 {
    let Ok(strip) = Outline::rectangle(strip.inflate(0.0, 1.0)) else {
        return of(outline.bounds());
    };
    let inside = |edge: &Edge| strip.stretches_inside(edge);
    let pieces = outline.edges().iter().flat_map(inside).map(|piece| of(piece.bounds()));
    let found = pieces.fold(f64::INFINITY, f64::min);
    if found.is_finite() { found } else { of(outline.bounds()) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::circle;
    use approx::assert_relative_eq;
    use kurbo::Vec2;

    // A sash from −50 to 1950 of which the cutter reaches 0 to 1013: its left end is the near one.
    #[test]
    fn stops_touch_the_sash_and_the_end_that_is_near() {
        let bounds = Rect::new(-50.0, -60.0, 1950.0, 840.0);
        let sash = Outline::rectangle(bounds).unwrap();
        let found = stops(&sash, Rect::new(0.0, 0.0, 1013.0, 780.0), &[]);
        assert_eq!(found.len(), 3);
        assert!(found[..2].iter().all(|stop| stop.y1 == bounds.y0));
        assert_eq!((found[0].x0, found[1].x1), (0.0, 1013.0));
        assert_eq!((found[2].x1, found[2].y0), (bounds.x0, 0.0));
        let moved_on = stops(&sash, Rect::new(900.0, 0.0, 1900.0, 780.0), &[]);
        assert_eq!(moved_on[2].x0, bounds.x1);
    }

    // By hand: horns of 50 below the lower edge push the stops inwards by their width; those above change nothing.
    #[test]
    fn stops_stand_clear_of_horns() {
        let sash = Outline::rectangle(Rect::new(-50.0, -60.0, 950.0, 840.0)).unwrap();
        let reach = Rect::new(-50.0, -60.0, 950.0, 840.0);
        let below = [Rect::new(-50.0, -120.0, 0.0, -60.0), Rect::new(900.0, -120.0, 950.0, -60.0)];
        let found = stops(&sash, reach, &below);
        assert_eq!((found[0].x0, found[1].x1), (0.0, 900.0));
        assert!(found[..2].iter().all(|stop| stop.y1 == -60.0));
        let above = below.map(|horn| horn + Vec2::new(0.0, 960.0));
        assert_eq!(stops(&sash, reach, &above), stops(&sash, reach, &[]));
    }

    // Closed form: a circle of 400 mm rests on stops whose inner corners lie on it, 400 − √(400² − x²) above
    // its lowest point; beside it the stop in the middle is nearest.
    #[test]
    fn under_a_round_sash_the_stops_touch_the_curve() {
        let sash = circle(800.0).unwrap().outline().moved(Vec2::new(-400.0, 0.0));
        assert_relative_eq!(sash.bounds().y0, 0.0, epsilon = 1e-9);
        let found = stops(&sash, Rect::new(-380.0, 20.0, 380.0, 780.0), &[]);
        let (left, right) = (found[0], found[1]);
        assert_relative_eq!(left.x1, -right.x0, epsilon = 1e-9);
        let above = 400.0 - (400.0_f64.powi(2) - right.x0.powi(2)).sqrt();
        assert_relative_eq!(left.y1, above, epsilon = 1e-6);
        assert_relative_eq!(right.y1, above, epsilon = 1e-6);
        assert_relative_eq!(found[2].center().y, 400.0, epsilon = 1e-9);
        assert_relative_eq!(found[2].x1, -400.0, epsilon = 1e-6);
    }
}
