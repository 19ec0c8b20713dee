//! Lines and arcs out of the ENTITIES section.

use super::pairs::Pair;
use super::{FARTHEST, Fault, Reading, TraceError};
use crate::geometry::{Arc, Edge};
use crate::survey::tolerances::{LEVEL, ROUNDING};
use kurbo::{Point, Vec2};
use std::collections::BTreeSet;
use std::f64::consts::FRAC_PI_2;

/// An edge and the line of the file where its entity begins.
#[derive(Debug, Clone, Copy)]
pub(super) struct Drawn {
    pub(super) edge: Edge,
    pub(super) line: usize,
}

/// An entity's name and the pairs up to the next one.
struct Entity<'a, 'b> {
    name: &'a str,
    line: usize,
    pairs: &'b [Pair<'a>],
}

impl<'a> Entity<'a, '_> {
    fn find(&self, code: i32) -> Option<&Pair<'a>> {
        self.pairs.iter().find(|pair| pair.code == code)
    }

    fn number(&self, code: i32) -> Result<f64, TraceError> {
        let pair = self.find(code);
        pair.ok_or_else(|| self.fault(Fault::Missing(self.name.to_owned(), code)))?.number()
    }

    fn number_or(&self, code: i32, otherwise: f64) -> Result<f64, TraceError> {
        self.find(code).map_or(Ok(otherwise), Pair::number)
    }

    fn flags(&self) -> Result<i64, TraceError> {
        self.find(70).map_or(Ok(0), Pair::whole)
    }

    fn point(&self, code: i32) -> Result<Point, TraceError> {
        Ok(Point::new(self.number(code)?, self.number(code + 10)?))
    }

    fn layer(&self) -> &'a str {
        self.find(8).map_or("0", |pair| pair.value)
    }

    fn fault(&self, fault: Fault) -> TraceError {
        TraceError::at(self.line, fault)
    }

    /// Refuses what does not lie flat and upright in the plane of the drawing.
    fn check_flat(&self) -> Result<(), TraceError> {
        let tilted = self.number_or(210, 0.0)?.abs() > ROUNDING
            || self.number_or(220, 0.0)?.abs() > ROUNDING
            || self.number_or(230, 1.0)? < 0.0;
        let heights: Vec<f64> = self
            .pairs
            .iter()
            .filter(|pair| [30, 31, 38].contains(&pair.code))
            .map(Pair::number)
            .collect::<Result<_, _>>()?;
        let lowest = heights.iter().copied().fold(f64::INFINITY, f64::min);
        let raised = heights.iter().any(|height| height - lowest > LEVEL);
        if tilted || raised {
            return Err(self.fault(Fault::NotFlat(self.name.to_owned())));
        }
        Ok(())
    }
}

/// Millimetres in a drawing unit, by $INSUNITS of the header.
pub(super) fn unit(pairs: &[Pair], reading: &Reading) -> Result<f64, TraceError> {
    let at = pairs.iter().position(|pair| pair.code == 9 && pair.value == "$INSUNITS");
    let code = at.and_then(|at| pairs.get(at + 1)).filter(|pair| pair.code == 70);
    let (line, code) = match code {
        Some(pair) => (pair.line + 1, pair.whole()?),
        None => (1, 0),
    };
    let unit = match code {
        1 => 25.4,
        2 => 304.8,
        4 => 1.0,
        5 => 10.0,
        6 => 1000.0,
        14 => 100.0,
        0 => return reading.unit.ok_or_else(|| TraceError::at(line, Fault::NoUnit)),
        other => return Err(TraceError::at(line, Fault::Unit(other))),
    };
    match reading.unit {
        Some(said) if (said - unit).abs() > ROUNDING * unit => {
            Err(TraceError::at(line, Fault::OtherUnit(unit)))
        }
        _ => Ok(unit),
    }
}

/// Every edge of the drawing, in mm.
pub(super) fn edges(pairs: &[Pair], reading: &Reading) -> Result<Vec<Drawn>, TraceError> {
    let unit = unit(pairs, reading)?;
    let mut drawn = Vec::new();
    let mut layer: Option<(&str, usize)> = None;
    let entities = entities(pairs);
    let mut rest = entities.as_slice();
    while let Some((entity, after)) = rest.split_first() {
        // The corners of an old polyline follow it as entities of their own.
        let corners = after.iter().take_while(|e| entity.name == "POLYLINE" && e.name == "VERTEX");
        let corners: Vec<&Entity> = corners.collect();
        rest = after.get(corners.len()..).unwrap_or_default();
        let on_paper = entity.find(67).is_some_and(|pair| pair.value == "1");
        let other_layer = reading.layer.as_deref().is_some_and(|name| name != entity.layer());
        if on_paper || other_layer || entity.name == "SEQEND" {
            continue;
        }
        entity.check_flat()?;
        let found = drawn_by(entity, &corners)?;
        match layer {
            Some((name, first)) if name != entity.layer() => {
                let (a, b) = (name.to_owned(), entity.layer().to_owned());
                return Err(entity.fault(Fault::Layers(a, first, b)));
            }
            _ => layer = Some((entity.layer(), entity.line)),
        }
        for edge in found.iter().map(|edge| scaled(edge, unit)) {
            if !is_near(&edge) {
                return Err(entity.fault(Fault::TooFar));
            }
            drawn.push(Drawn { edge, line: entity.line });
        }
    }
    match &reading.layer {
        Some(asked) if drawn.is_empty() => {
            let layers = layers(&entities);
            Err(TraceError::at(1, Fault::NoLayer(asked.clone(), layers)))
        }
        _ => Ok(drawn),
    }
}

/// The first few layers that something is drawn on.
fn layers(entities: &[Entity]) -> Vec<String> {
    let all: BTreeSet<&str> = entities.iter().map(Entity::layer).collect();
    all.into_iter().take(8).map(str::to_owned).collect()
}

/// Whether an edge lies where numbers still tell hundredths of a millimetre.
fn is_near(edge: &Edge) -> bool {
    let near = |point: Point| point.x.abs() <= FARTHEST && point.y.abs() <= FARTHEST;
    let round = match edge {
        Edge::Line(_) => true,
        Edge::Arc(arc) => near(arc.centre) && arc.radius <= FARTHEST,
    };
    round && near(edge.start()) && near(edge.end())
}

fn scaled(edge: &Edge, unit: f64) -> Edge {
    let far = |point: Point| (unit * point.to_vec2()).to_point();
    match *edge {
        Edge::Line(line) => Edge::line(far(line.p0), far(line.p1)),
        Edge::Arc(arc) => {
            Edge::Arc(Arc { centre: far(arc.centre), radius: unit * arc.radius, ..arc })
        }
    }
}

/// The entities of the ENTITIES section.
fn entities<'a, 'b>(pairs: &'b [Pair<'a>]) -> Vec<Entity<'a, 'b>> {
    let begins = pairs.iter().position(|pair| pair.code == 2 && pair.value == "ENTITIES");
    let inside = begins.and_then(|at| pairs.get(at + 1..)).unwrap_or_default();
    let ends = inside.iter().position(|pair| pair.code == 0 && pair.value == "ENDSEC");
    let mut inside = inside.get(..ends.unwrap_or(inside.len())).unwrap_or_default();
    let mut found = Vec::new();
    while let Some((head, rest)) = inside.split_first() {
        let end = rest.iter().position(|pair| pair.code == 0).unwrap_or(rest.len());
        let (pairs, after) = rest.split_at(end);
        if head.code == 0 {
            found.push(Entity { name: head.value, line: head.line, pairs });
        }
        inside = after;
    }
    found
}

fn drawn_by(entity: &Entity, corners: &[&Entity]) -> Result<Vec<Edge>, TraceError> {
    match entity.name {
        "LINE" => Ok(vec![Edge::line(entity.point(10)?, entity.point(11)?)]),
        "ARC" => {
            let from = entity.number(50)?.to_radians();
            // From start to end anticlockwise, as the DXF reference has it.
            let turn = (entity.number(51)? - entity.number(50)?).rem_euclid(360.0).to_radians();
            if turn < ROUNDING {
                quarters(entity)
            } else {
                Ok(vec![Edge::Arc(arc(entity, from, turn)?)])
            }
        }
        "CIRCLE" => quarters(entity),
        "LWPOLYLINE" => {
            let mut vertices: Vec<(Point, f64)> = Vec::new();
            for pair in entity.pairs {
                match (pair.code, vertices.last_mut()) {
                    (10, _) => vertices.push((Point::new(pair.number()?, 0.0), 0.0)),
                    (20, Some(last)) => last.0.y = pair.number()?,
                    (42, Some(last)) => last.1 = pair.number()?,
                    _ => {}
                }
            }
            Ok(polyline(&vertices, entity.flags()? & 1 == 1))
        }
        "POLYLINE" => {
            let flags = entity.flags()?;
            // Curve-fitted, spline-fitted, in space, or a mesh.
            if flags & (2 | 4 | 8 | 16 | 64) != 0 {
                return Err(entity.fault(Fault::Unknown("POLYLINE in space".to_owned())));
            }
            let vertices = corners
                .iter()
                .map(|corner| Ok((corner.point(10)?, corner.number_or(42, 0.0)?)))
                .collect::<Result<Vec<_>, TraceError>>()?;
            Ok(polyline(&vertices, flags & 1 == 1))
        }
        other => Err(entity.fault(Fault::Unknown(other.to_owned()))),
    }
}

fn quarters(entity: &Entity) -> Result<Vec<Edge>, TraceError> {
    (0..4)
        .map(|quarter| Ok(Edge::Arc(arc(entity, f64::from(quarter) * FRAC_PI_2, FRAC_PI_2)?)))
        .collect()
}

fn arc(entity: &Entity, start: f64, sweep: f64) -> Result<Arc, TraceError> {
    let radius = entity.number(40)?;
    if radius <= 0.0 {
        return Err(entity.fault(Fault::Radius(radius)));
    }
    Ok(Arc { centre: entity.point(10)?, radius, start, sweep })
}

fn polyline(vertices: &[(Point, f64)], closed: bool) -> Vec<Edge> {
    let next = vertices.iter().cycle().skip(1);
    let count = if closed { vertices.len() } else { vertices.len().saturating_sub(1) };
    vertices
        .iter()
        .zip(next)
        .take(count)
        .map(|(&(from, bulge), &(to, _))| {
            Arc::from_bulge(from, to, bulge).map_or(Edge::line(from, to), Edge::Arc)
        })
        .collect()
}

/// The edge with its ends moved to `from` and `to`; an arc keeps its sweep.
pub(super) fn between(edge: &Edge, from: Point, to: Point) -> Edge {
    match edge {
        Edge::Line(_) => Edge::line(from, to),
        Edge::Arc(arc) => {
            let slid: Vec2 = (edge.start() - from) + (edge.end() - to);
            if slid.hypot() == 0.0 {
                return *edge;
            }
            Arc::from_bulge(from, to, arc.bulge()).map_or(Edge::line(from, to), Edge::Arc)
        }
    }
}
