//! Where the axis goes, and how far from it a place is.

use std::f64::consts::TAU;

/// X and Y, mm.
pub(super) type Place = (f64, f64);

pub(super) fn apart(a: Place, b: Place) -> f64 {
    (a.0 - b.0).hypot(a.1 - b.1)
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Path {
    Line(Place, Place),
    /// Centre, radius, first angle and turn, anticlockwise positive.
    Arc(Place, f64, f64, f64),
}

impl Path {
    pub(super) fn length(&self) -> f64 {
        match *self {
            Path::Line(a, b) => apart(a, b),
            Path::Arc(_, radius, _, turn) => radius * turn.abs(),
        }
    }

    pub(super) fn at(&self, t: f64) -> Place {
        match *self {
            Path::Line(a, b) => (a.0 + t * (b.0 - a.0), a.1 + t * (b.1 - a.1)),
            Path::Arc(centre, radius, first, turn) => {
                let angle = first + t * turn;
                (centre.0 + radius * angle.cos(), centre.1 + radius * angle.sin())
            }
        }
    }

    pub(super) fn part(&self, from: f64, to: f64) -> Path {
        match *self {
            Path::Line(..) => Path::Line(self.at(from), self.at(to)),
            Path::Arc(centre, radius, first, turn) => {
                Path::Arc(centre, radius, first + from * turn, (to - from) * turn)
            }
        }
    }

    /// Least and greatest X, least and greatest Y; for an arc those of its whole circle, which are
    /// only ever too large.
    pub(super) fn around(&self) -> [f64; 4] {
        match *self {
            Path::Line(a, b) => [a.0.min(b.0), a.0.max(b.0), a.1.min(b.1), a.1.max(b.1)],
            Path::Arc((x, y), radius, ..) => [x - radius, x + radius, y - radius, y + radius],
        }
    }

    /// Least and greatest X and Y as they are: places every degree, and the ends.
    pub(super) fn extent(&self) -> [f64; 4] {
        if let Path::Line(..) = self {
            return self.around();
        }
        let mut extent = [f64::MAX, f64::MIN, f64::MAX, f64::MIN];
        for i in 0..=360 {
            let (x, y) = self.at(f64::from(i) / 360.0);
            extent = [extent[0].min(x), extent[1].max(x), extent[2].min(y), extent[3].max(y)];
        }
        extent
    }

    pub(super) fn distance(&self, p: Place) -> f64 {
        match *self {
            Path::Line(a, b) => {
                let along = (b.0 - a.0, b.1 - a.1);
                let square = along.0 * along.0 + along.1 * along.1;
                let dot = (p.0 - a.0) * along.0 + (p.1 - a.1) * along.1;
                let t = if square > 0.0 { (dot / square).clamp(0.0, 1.0) } else { 0.0 };
                apart(p, (a.0 + t * along.0, a.1 + t * along.1))
            }
            Path::Arc(centre, radius, first, turn) => {
                let angle = (p.1 - centre.1).atan2(p.0 - centre.0);
                let past = if turn > 0.0 { angle - first } else { first - angle };
                if past.rem_euclid(TAU) <= turn.abs() {
                    (apart(p, centre) - radius).abs()
                } else {
                    apart(p, self.at(0.0)).min(apart(p, self.at(1.0)))
                }
            }
        }
    }
}
