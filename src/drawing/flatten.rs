//! Free curves as outlines that every pen can draw.

use crate::geometry::{COINCIDENT, Outline, OutlineError};
use kurbo::{BezPath, PathEl, Point};

/// The closed outline along `path`, its curves as chords no further than `tolerance` mm from them.
/// Only the first closed piece of the path counts; it is closed if it is not.
///
/// # Errors
/// Where the path holds no area or is not finite.
pub fn outline_along(path: &BezPath, tolerance: f64) -> Result<Outline, OutlineError> {
    let mut corners: Vec<Point> = Vec::new();
    let mut pieces = 0;
    kurbo::flatten(path, tolerance.max(COINCIDENT), |element| match element {
        PathEl::MoveTo(_) if pieces > 0 => pieces += 1,
        PathEl::MoveTo(p) => {
            pieces = 1;
            corners.push(p);
        }
        PathEl::LineTo(p) if pieces == 1 => corners.push(p),
        _ => {}
    });
    corners.dedup_by(|next, last| (*next - *last).hypot() <= COINCIDENT);
    while let [first, .., last] = corners.as_slice()
        && (*last - *first).hypot() <= COINCIDENT
    {
        corners.pop();
    }
    Outline::polygon(&corners)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use kurbo::{Circle, Rect, Shape};

    #[test]
    fn a_circle_becomes_a_polygon_within_the_tolerance() {
        let path = Circle::new((3.0, 4.0), 50.0).to_path(1e-9);
        let outline = outline_along(&path, 0.01).unwrap();
        assert_relative_eq!(outline.area(), std::f64::consts::PI * 2500.0, max_relative = 4e-4);
        let off = outline.corners().map(|p| (p - Point::new(3.0, 4.0)).hypot() - 50.0);
        assert!(off.fold(0.0, |most: f64, d| most.max(d.abs())) < 1e-3);
    }

    #[test]
    fn corners_that_coincide_count_once() {
        let mut path = Rect::new(0.0, 0.0, 4.0, 3.0).to_path(0.1);
        path.move_to((100.0, 100.0));
        path.line_to((200.0, 100.0));
        let outline = outline_along(&path, 0.1).unwrap();
        assert_eq!(outline.edges().len(), 4);
        assert_eq!(outline.area(), 12.0);
        assert!(outline_along(&BezPath::new(), 0.1).is_err());
    }
}
