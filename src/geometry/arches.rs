//! Outlines with a level foot, upright sides and a head of one of the usual kinds; circles; and free
//! outlines.
//!
//! Promised: the outline asked for, with arcs where the head is made of arcs, its edges each with
//! their side (head edges are all [`Side::Top`]); or an error that names the value that cannot be.
//! The lower left corner of the foot is at (0, 0). Where the head springs from the foot there are no
//! upright sides.

use super::tolerance::{COINCIDENT, FIT_WITHIN, FLATTEST};
use super::{Arc, Edge, FitError, Outline, OutlineError, Side, Sided, fit_ellipse};
use kurbo::{Point, Vec2};
use std::f64::consts::{FRAC_PI_2, PI};
use std::fmt;

/// What closes an outline above the springing line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Head {
    /// A level line.
    Level,
    /// One arc of at most half a circle, of this rise.
    Segmental {
        /// Height of the crown above the springing line, mm.
        rise: f64,
    },
    /// Half a circle.
    Semicircular,
    /// Half an ellipse of this rise, drawn with arcs within [`FIT_WITHIN`].
    Elliptical {
        /// Height of the crown above the springing line, mm.
        rise: f64,
    },
    /// A large arc between two small ones, tangent to them and they to the sides.
    ThreeCentred {
        /// Height of the crown above the springing line, mm, less than half the width.
        rise: f64,
        /// Radius of the small arcs, mm; where not given, the one that makes large and small
        /// radius differ least.
        haunch: Option<f64>,
    },
    /// Two arcs with centres on the springing line that meet in a point.
    Pointed(Pointed),
}

/// What fixes a pointed head. A radius equal to the width is *equilateral*, a larger one a *lancet*, a
/// smaller one a *drop* arch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Pointed {
    /// Each arc has its centre at the other one's springing.
    Equilateral,
    /// Radius of both arcs, mm, more than half the width.
    Radius(f64),
    /// Height of the point above the springing line, mm, more than half the width.
    Rise(f64),
}

/// Which height is given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Height {
    /// From the foot to the springing line, mm; zero where the head springs from the foot.
    Springing(f64),
    /// From the foot to the highest point, mm.
    Total(f64),
}

/// Why there is no such outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ArchError {
    /// A length is not a positive, finite number: its name and value.
    NotPositive(&'static str, f64),
    /// A value is below the least that this kind of head can have: its name, value and the least.
    TooSmall(&'static str, f64, f64),
    /// A value is above the greatest that this kind of head can have: its name, value, the greatest.
    TooLarge(&'static str, f64, f64),
    /// Two edges of a free outline, by their indices, meet where they should not.
    Crosses(usize, usize),
    /// The edges are not one closed chain.
    Outline(OutlineError),
    /// The curve could not be drawn with arcs.
    Fit(FitError),
}

impl fmt::Display for ArchError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ArchError::NotPositive(name, value) => {
                write!(f, "the {name} must be a positive length: {value} mm")
            }
            ArchError::TooSmall(name, value, least) => {
                write!(f, "the {name} of {value:.3} mm must be more than {least:.3} mm here")
            }
            ArchError::TooLarge(name, value, most) => {
                write!(f, "the {name} of {value:.3} mm must not exceed {most:.3} mm here")
            }
            ArchError::Crosses(i, j) => {
                write!(f, "edges {i} and {j} cross, touch or come back on each other")
            }
            ArchError::Outline(error) => error.fmt(f),
            ArchError::Fit(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for ArchError {}

fn positive(name: &'static str, value: f64) -> Result<f64, ArchError> {
    if value.is_finite() && value > COINCIDENT {
        Ok(value)
    } else {
        Err(ArchError::NotPositive(name, value))
    }
}

fn more_than(name: &'static str, value: f64, least: f64) -> Result<f64, ArchError> {
    if positive(name, value)? > least {
        Ok(value)
    } else {
        Err(ArchError::TooSmall(name, value, least))
    }
}

fn at_most(name: &'static str, value: f64, most: f64) -> Result<f64, ArchError> {
    if value <= most { Ok(value) } else { Err(ArchError::TooLarge(name, value, most)) }
}

/// The outline of the given width (mm) and height with `head` above.
///
/// ```
/// use fillister::geometry::{Head, Height, arched};
/// let window = arched(800.0, Height::Total(1000.0), Head::Segmental { rise: 100.0 })?;
/// assert!((window.bounds().height() - 1000.0).abs() < 1e-9);
/// # Ok::<(), fillister::geometry::ArchError>(())
/// ```
///
/// # Errors
/// Where a value is not finite, not positive, or outside what the kind of head can have.
pub fn arched(width: f64, height: Height, head: Head) -> Result<Sided, ArchError> {
    positive("width", width)?;
    let curve = head_edges(width, head)?;
    let crown = curve.iter().map(|edge| edge.bounds().y1).fold(0.0, f64::max);
    let springing = match height {
        Height::Springing(springing) if springing.abs() <= COINCIDENT => 0.0,
        Height::Springing(springing) => positive("springing height", springing)?,
        Height::Total(total) if (positive("total height", total)? - crown).abs() <= COINCIDENT => {
            0.0
        }
        // The head alone needs its rise.
        Height::Total(total) => more_than("total height", total, crown)? - crown,
    };
    if springing == 0.0 && head == Head::Level {
        return Err(ArchError::NotPositive("height", 0.0));
    }
    let foot = [Point::ZERO, Point::new(width, 0.0)];
    let spring = [Point::new(0.0, springing), Point::new(width, springing)];
    let mut edges = vec![(Edge::line(foot[0], foot[1]), Side::Bottom)];
    if springing > 0.0 {
        edges.push((Edge::line(foot[1], spring[1]), Side::Right));
    }
    let up = Vec2::new(0.0, springing);
    edges.extend(curve.iter().map(|edge| (edge.moved(up), Side::Top)));
    if springing > 0.0 {
        edges.push((Edge::line(spring[0], foot[0]), Side::Left));
    }
    Sided::new(edges).map_err(ArchError::Outline)
}

/// Edges of a head from its right springing (width, 0) to its left (0, 0).
fn head_edges(width: f64, head: Head) -> Result<Vec<Edge>, ArchError> {
    let (right, left) = (Point::new(width, 0.0), Point::ZERO);
    let half = width / 2.0;
    let flattest = FLATTEST * width;
    // Rounding of a half given to the last figure.
    let half_circle = half + COINCIDENT;
    match head {
        Head::Level => Ok(vec![Edge::line(right, left)]),
        Head::Semicircular => segmental(width, half),
        Head::Segmental { rise } => {
            segmental(width, at_most("rise", more_than("rise", rise, flattest)?, half_circle)?)
        }
        Head::Elliptical { rise } => {
            let rise = at_most("rise", more_than("rise", rise, flattest)?, 20.0 * width)?;
            fit_ellipse(Point::new(half, 0.0), (half, rise), (0.0, PI), FIT_WITHIN)
                .map_err(ArchError::Fit)
        }
        Head::ThreeCentred { rise, haunch } => {
            let rise = more_than("rise", rise, flattest)?;
            // At half the width the three arcs would be one.
            three_centred(width, at_most("rise", rise, half - flattest)?, haunch)
        }
        Head::Pointed(pointed) => {
            let radius = match pointed {
                Pointed::Equilateral => width,
                Pointed::Radius(radius) => more_than("radius", radius, half * (1.0 + FLATTEST))?,
                // rise² = ρ² − (ρ − w/2)², so ρ = rise²/w + w/4.
                Pointed::Rise(rise) => {
                    let rise = more_than("rise", rise, half * (1.0 + FLATTEST))?;
                    rise * rise / width + width / 4.0
                }
            };
            pointed_arcs(width, at_most("radius", radius, 1000.0 * width)?)
        }
    }
}

/// R = (s²/4 + h²)/(2h); the bulge of the whole arc is 2h/s.
fn segmental(width: f64, rise: f64) -> Result<Vec<Edge>, ArchError> {
    let (right, left) = (Point::new(width, 0.0), Point::ZERO);
    let arc = Arc::from_bulge(right, left, 2.0 * rise / width);
    Ok(vec![Edge::Arc(arc.ok_or(ArchError::NotPositive("rise", rise))?)])
}

/// Half the span a, rise h, small radius r with its centre on the springing line, large radius R with
/// its centre on the axis. Tangent circles have centres R − r apart:
/// (R − r)² = (a − r)² + (R − h)², so R = (a² − 2 a r + h²)/(2 (h − r)).
///
/// Without r given: with c = √(a² + h²), r = c (c − (a − h))/(2 a) and R = c (c + (a − h))/(2 h), the
/// pair of tangent arcs whose R/r is least, as the tests check.
fn three_centred(width: f64, rise: f64, haunch: Option<f64>) -> Result<Vec<Edge>, ArchError> {
    let a = width / 2.0;
    let chord = a.hypot(rise);
    let small = match haunch {
        // A haunch as large as the rise would leave nothing for the large arc.
        Some(r) => {
            at_most("haunch radius", positive("haunch radius", r)?, rise * (1.0 - FLATTEST))?
        }
        None => chord * (chord - (a - rise)) / (2.0 * a),
    };
    let large = (a * a - 2.0 * a * small + rise * rise) / (2.0 * (rise - small));
    let crown_centre = Point::new(a, rise - large);
    let haunch_centre = |x: f64| Point::new(x, 0.0);
    // The joint lies on the line through both centres.
    let turn = (haunch_centre(width - small) - crown_centre).atan2();
    if !turn.is_finite() || turn <= 0.0 || turn >= FRAC_PI_2 {
        return Err(ArchError::TooLarge("haunch radius", small, rise));
    }
    let haunch = |x: f64, start: f64| {
        Edge::Arc(Arc { centre: haunch_centre(x), radius: small, start, sweep: turn })
    };
    Ok(vec![
        haunch(width - small, 0.0),
        Edge::Arc(Arc { centre: crown_centre, radius: large, start: turn, sweep: PI - 2.0 * turn }),
        haunch(small, PI - turn),
    ])
}

/// Two arcs of radius ρ about (w − ρ, 0) and (ρ, 0); they meet at cos φ = (ρ − w/2)/ρ.
fn pointed_arcs(width: f64, radius: f64) -> Result<Vec<Edge>, ArchError> {
    let turn = ((radius - width / 2.0) / radius).acos();
    if !turn.is_finite() || turn <= 0.0 {
        return Err(ArchError::NotPositive("radius", radius));
    }
    let arc = |x: f64, start: f64| {
        Edge::Arc(Arc { centre: Point::new(x, 0.0), radius, start, sweep: turn })
    };
    Ok(vec![arc(width - radius, 0.0), arc(radius, PI - turn)])
}

/// An outline with a straight raking head from `right` to `left`, heights of the uprights in mm.
///
/// # Errors
/// Where a length is not positive.
pub fn raked(width: f64, left: f64, right: f64) -> Result<Sided, ArchError> {
    positive("width", width)?;
    positive("left height", left)?;
    positive("right height", right)?;
    let corners =
        [(0.0, 0.0), (width, 0.0), (width, right), (0.0, left)].map(|(x, y)| Point::new(x, y));
    let sides = [Side::Bottom, Side::Right, Side::Top, Side::Left];
    let next = corners.iter().cycle().skip(1);
    let edges = corners.iter().zip(next).map(|(&a, &b)| Edge::line(a, b));
    Sided::new(edges.zip(sides).collect()).map_err(ArchError::Outline)
}

/// A circle of four quarter arcs, one a side, with its lowest and leftmost points on the axes.
///
/// # Errors
/// Where the diameter is not positive.
pub fn circle(diameter: f64) -> Result<Sided, ArchError> {
    let radius = positive("diameter", diameter)? / 2.0;
    let sides = [Side::Bottom, Side::Right, Side::Top, Side::Left];
    let starts = [-3.0, -1.0, 1.0, 3.0].map(|eighths| eighths * PI / 4.0);
    let centre = Point::new(radius, radius);
    let edges = starts
        .into_iter()
        .map(|start| Edge::Arc(Arc { centre, radius, start, sweep: FRAC_PI_2 }))
        .zip(sides);
    Sided::new(edges.collect()).map_err(ArchError::Outline)
}

/// An outline of any lines and arcs, each edge with the side that it looks to.
///
/// # Errors
/// Where the chain is open, an edge has no length, no area is enclosed, or edges cross, touch or come
/// back on each other (a spike).
pub fn free(edges: Vec<Edge>) -> Result<Sided, ArchError> {
    let last = edges.len().saturating_sub(1);
    let clockwise = edges.iter().map(Edge::area_share).sum::<f64>() < 0.0;
    let outline = Outline::new(edges).map_err(ArchError::Outline)?;
    match outline.first_crossing() {
        // The outline has turned a clockwise chain round; the error counts as the caller does.
        Some((i, j)) if clockwise => Err(ArchError::Crosses(last - j, last - i)),
        Some((i, j)) => Err(ArchError::Crosses(i, j)),
        None => Ok(Sided::by_direction(outline)),
    }
}

#[cfg(test)]
mod tests;
