//! Lines and arcs out of the entities of a drawing.
//!
//! The `dxf` crate reads the entities. It leaves out, without a word, entities that it does not know and
//! everything after a value that it cannot read; it takes zero for what is missing, and the last of what
//! stands twice. So it is given only what makes a shape, and every group of that must come back with the
//! very number that stands in the text.

use super::text::{Entity, Pair, entities};
use super::{FARTHEST, Fault, Reading, TraceError};
use crate::geometry::{Arc, Edge};
use crate::survey::tolerance::{LEVEL, ROUNDING};
use dxf::entities::EntityType;
use dxf::enums::Units;
use dxf::{Drawing, Vector};
use kurbo::{Point, Vec2};
use std::collections::BTreeSet;
use std::f64::consts::FRAC_PI_2;
use std::fmt::Write;

/// An edge and the line of the file where its entity begins.
#[derive(Debug, Clone, Copy)]
pub(super) struct Drawn {
    pub(super) edge: Edge,
    pub(super) line: usize,
}

/// Group codes of the way that an entity faces.
const NORMAL: [i32; 3] = [210, 220, 230];

/// The group codes that make the shape of an entity (DXF reference): what it must have, and what it may.
type Groups = (&'static [i32], &'static [i32]);

/// The groups of an entity, and those of each of its corners; `None` for one that is not read.
fn groups(name: &str) -> Option<(Groups, Groups)> {
    let corner: Groups = (&[10, 20], &[42]);
    match name {
        "LINE" => Some(((&[10, 20, 11, 21], &[30, 31, 210, 220, 230]), corner)),
        "ARC" => Some(((&[10, 20, 40, 50, 51], &NORMAL), corner)),
        "CIRCLE" => Some(((&[10, 20, 40], &NORMAL), corner)),
        "LWPOLYLINE" | "POLYLINE" => Some(((&[], &[70, 210, 220, 230]), corner)),
        _ => None,
    }
}

/// What the crate read: a number for each group code of the entity, and of each corner.
type Numbers = Vec<(i32, f64)>;

fn numbers(entity: &EntityType) -> Option<(&'static str, Numbers, Vec<Numbers>)> {
    let with_normal = |own: &[(i32, f64)], normal: &Vector| -> Numbers {
        let facing = NORMAL.into_iter().zip([normal.x, normal.y, normal.z]);
        own.iter().copied().chain(facing).collect()
    };
    Some(match entity {
        EntityType::Line(line) => {
            let (a, b) = (&line.p1, &line.p2);
            let own = [(10, a.x), (20, a.y), (30, a.z), (11, b.x), (21, b.y), (31, b.z)];
            ("LINE", with_normal(&own, &line.extrusion_direction), Vec::new())
        }
        EntityType::Arc(arc) => {
            let angles = [(50, arc.start_angle), (51, arc.end_angle)];
            let own = [(10, arc.center.x), (20, arc.center.y), (40, arc.radius)];
            ("ARC", with_normal(&[&own[..], &angles].concat(), &arc.normal), Vec::new())
        }
        EntityType::Circle(circle) => {
            let own = [(10, circle.center.x), (20, circle.center.y), (40, circle.radius)];
            ("CIRCLE", with_normal(&own, &circle.normal), Vec::new())
        }
        EntityType::LwPolyline(polyline) => {
            let own = [(70, f64::from(polyline.flags))];
            let corner = |at: &dxf::LwPolylineVertex| vec![(10, at.x), (20, at.y), (42, at.bulge)];
            let corners = polyline.vertices.iter().map(corner).collect();
            ("LWPOLYLINE", with_normal(&own, &polyline.extrusion_direction), corners)
        }
        EntityType::Polyline(polyline) => {
            let own = [(70, f64::from(polyline.flags))];
            let corners = polyline.vertices().map(|vertex| {
                let at = &vertex.location;
                vec![(10, at.x), (20, at.y), (42, vertex.bulge)]
            });
            ("POLYLINE", with_normal(&own, &polyline.normal), corners.collect())
        }
        _ => return None,
    })
}

/// What makes the shape of an entity in the text.
struct Written<'a, 'b> {
    entity: &'b Entity<'a, 'b>,
    groups: (Groups, Groups),
    own: Vec<Pair<'a>>,
    corners: Vec<Vec<Pair<'a>>>,
}

impl<'a, 'b> Written<'a, 'b> {
    fn new(entity: &'b Entity<'a, 'b>) -> Result<Written<'a, 'b>, TraceError> {
        let groups = groups(entity.name)
            .ok_or_else(|| entity.fault(Fault::Unknown(entity.name.to_owned())))?;
        let of = |(must, may): Groups| {
            move |pair: &&Pair| must.contains(&pair.code) || may.contains(&pair.code)
        };
        let mut corners: Vec<Vec<Pair>> = Vec::new();
        if entity.name == "LWPOLYLINE" {
            // Each corner begins with its X.
            for pair in entity.pairs.iter().filter(of(groups.1)) {
                match corners.last_mut() {
                    Some(corner) if pair.code != 10 => corner.push(*pair),
                    _ => corners.push(vec![*pair]),
                }
            }
        } else {
            let own = |pairs: &&[Pair<'a>]| pairs.iter().filter(of(groups.1)).copied().collect();
            corners.extend(entity.corners.iter().map(own));
        }
        let own = entity.pairs.iter().filter(of(groups.0)).copied().collect();
        Ok(Written { entity, groups, own, corners })
    }

    /// Appends it to a drawing for the crate.
    fn write(&self, text: &mut String) {
        let mut put = |code: i32, value: &str| {
            // Writing to text cannot fail.
            let _ = writeln!(text, "{code}\n{value}");
        };
        put(0, self.entity.name);
        for pair in &self.own {
            put(pair.code, pair.value);
        }
        for corner in &self.corners {
            if self.entity.name == "POLYLINE" {
                put(0, "VERTEX");
            }
            for pair in corner {
                put(pair.code, pair.value);
            }
        }
    }

    /// Every group must stand once at most, be a number, and be there where it must.
    fn check(&self) -> Result<(), TraceError> {
        let name = self.entity.name;
        let check = |pairs: &[Pair], must: &[i32], name: &str| {
            for (index, pair) in pairs.iter().enumerate() {
                if pair.code == 70 {
                    pair.whole()?;
                }
                pair.number()?;
                let before = pairs.get(..index).unwrap_or_default();
                if before.iter().any(|other| other.code == pair.code) {
                    let twice = Fault::Twice(name.to_owned(), pair.code);
                    return Err(TraceError::at(pair.line, twice));
                }
            }
            let missing = must.iter().find(|code| pairs.iter().all(|pair| pair.code != **code));
            missing.map_or(Ok(()), |code| {
                Err(self.entity.fault(Fault::Missing(name.to_owned(), *code)))
            })
        };
        check(&self.own, self.groups.0.0, name)?;
        let corner = if name == "POLYLINE" { "VERTEX" } else { name };
        self.corners.iter().try_for_each(|pairs| check(pairs, self.groups.1.0, corner))
    }

    /// Whether what the crate read is what is written: each number, and zero (of the last part of the
    /// normal, one) only where nothing is.
    fn agrees(&self, read: &EntityType) -> bool {
        let same = |pairs: &[Pair], numbers: &[(i32, f64)]| {
            let known = |pair: &Pair| numbers.iter().any(|(code, _)| *code == pair.code);
            pairs.iter().all(known)
                && numbers.iter().all(|(code, number)| {
                    let written = pairs.iter().find(|pair| pair.code == *code);
                    let usual = if *code == 230 { 1.0 } else { 0.0 };
                    let written = written.map_or(Ok(usual), Pair::number);
                    written.is_ok_and(|written| written.to_bits() == number.to_bits())
                })
        };
        numbers(read).is_some_and(|(name, own, corners)| {
            let mut all = self.corners.iter().zip(&corners);
            name == self.entity.name
                && same(&self.own, &own)
                && self.corners.len() == corners.len()
                && all.all(|(written, read)| same(written, read))
        })
    }
}

/// What the crate makes of a text.
fn read(text: &str) -> Result<Drawing, TraceError> {
    let failed = |error: dxf::DxfError| TraceError::at(1, Fault::Unread(error.to_string()));
    Drawing::load(&mut text.as_bytes()).map_err(failed)
}

/// Millimetres in a drawing unit, by $INSUNITS of the header.
fn unit(pairs: &[Pair], reading: &Reading) -> Result<f64, TraceError> {
    let at = pairs.iter().position(|pair| pair.code == 9 && pair.value == "$INSUNITS");
    let code = at.and_then(|at| pairs.get(at + 1)).filter(|pair| pair.code == 70);
    let (line, code) = match code {
        Some(pair) => (pair.line + 1, pair.whole()?),
        None => (1, 0),
    };
    let header = format!("0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n{code}\n0\nENDSEC\n0\nEOF\n");
    let named = read(&header)?.header.default_drawing_units;
    let unit = match named {
        // The crate takes a unit that it does not know for none.
        named if named as i64 != code => None,
        Units::Unitless => {
            return reading.unit.ok_or_else(|| TraceError::at(line, Fault::NoUnit));
        }
        Units::Inches => Some(25.4),
        Units::Feet => Some(304.8),
        Units::Millimeters => Some(1.0),
        Units::Centimeters => Some(10.0),
        Units::Decimeters => Some(100.0),
        Units::Meters => Some(1000.0),
        _ => None,
    };
    let unit = unit.ok_or_else(|| TraceError::at(line, Fault::Unit(code)))?;
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
    let entities = entities(pairs);
    let asked = |entity: &&Entity| {
        let other_layer = reading.layer.as_deref().is_some_and(|name| name != entity.layer());
        !entity.on_paper() && !other_layer && entity.name != "SEQEND"
    };
    let mut written = Vec::new();
    let mut text = "0\nSECTION\n2\nENTITIES\n".to_owned();
    for entity in entities.iter().filter(asked) {
        let own = Written::new(entity)?;
        own.check()?;
        own.write(&mut text);
        written.push(own);
    }
    text += "0\nENDSEC\n0\nEOF\n";
    let drawing = read(&text)?;
    let mut found = drawing.entities();
    let mut drawn = Vec::new();
    for own in &written {
        let entity = own.entity;
        let read = found.next().filter(|read| own.agrees(&read.specific));
        let read = read.ok_or_else(|| entity.fault(Fault::Lost(entity.name.to_owned())))?;
        let edges = drawn_by(entity, &read.specific)?;
        if let Some(first) = written.first().map(|first| first.entity)
            && first.layer() != entity.layer()
        {
            let (a, b) = (first.layer().to_owned(), entity.layer().to_owned());
            return Err(entity.fault(Fault::Layers(a, first.line, b)));
        }
        for edge in edges.iter().map(|edge| scaled(edge, unit)) {
            if !is_near(&edge) {
                return Err(entity.fault(Fault::TooFar));
            }
            drawn.push(Drawn { edge, line: entity.line });
        }
    }
    match &reading.layer {
        Some(asked) if drawn.is_empty() => {
            let layers: BTreeSet<&str> = entities.iter().map(Entity::layer).collect();
            let layers = layers.into_iter().take(8).map(str::to_owned).collect();
            Err(TraceError::at(1, Fault::NoLayer(asked.clone(), layers)))
        }
        _ => Ok(drawn),
    }
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

/// The edges of an entity, which must lie flat and upright in the plane of the drawing.
fn drawn_by(entity: &Entity, read: &EntityType) -> Result<Vec<Edge>, TraceError> {
    let flat = |normal: &Vector, raised: f64| {
        let tilted = normal.x.abs() > ROUNDING || normal.y.abs() > ROUNDING || normal.z < 0.0;
        let fault = || entity.fault(Fault::NotFlat(entity.name.to_owned()));
        if tilted || raised.abs() > LEVEL { Err(fault()) } else { Ok(()) }
    };
    let arc = |centre: &dxf::Point, radius: f64, start: f64, sweep: f64| {
        if radius <= 0.0 {
            return Err(entity.fault(Fault::Radius(radius)));
        }
        Ok(Edge::Arc(Arc { centre: Point::new(centre.x, centre.y), radius, start, sweep }))
    };
    let circle = |centre: &dxf::Point, radius: f64| {
        let quarters = (0..4).map(|quarter| f64::from(quarter) * FRAC_PI_2);
        quarters.map(|start| arc(centre, radius, start, FRAC_PI_2)).collect()
    };
    match read {
        EntityType::Line(line) => {
            flat(&line.extrusion_direction, line.p2.z - line.p1.z)?;
            let [from, to] = [&line.p1, &line.p2].map(|end| Point::new(end.x, end.y));
            Ok(vec![Edge::line(from, to)])
        }
        EntityType::Arc(own) => {
            flat(&own.normal, 0.0)?;
            // From start to end anticlockwise, as the DXF reference has it.
            let turn = (own.end_angle - own.start_angle).rem_euclid(360.0).to_radians();
            if turn < ROUNDING {
                return circle(&own.center, own.radius);
            }
            Ok(vec![arc(&own.center, own.radius, own.start_angle.to_radians(), turn)?])
        }
        EntityType::Circle(own) => {
            flat(&own.normal, 0.0)?;
            circle(&own.center, own.radius)
        }
        EntityType::LwPolyline(own) => {
            flat(&own.extrusion_direction, 0.0)?;
            let corners = own.vertices.iter().map(|at| (Point::new(at.x, at.y), at.bulge));
            Ok(polyline(&corners.collect::<Vec<_>>(), own.flags & 1 == 1))
        }
        EntityType::Polyline(own) => {
            flat(&own.normal, 0.0)?;
            // Curve-fitted, spline-fitted, in space, or a mesh.
            if own.flags & (2 | 4 | 8 | 16 | 64) != 0 {
                return Err(entity.fault(Fault::Unknown("POLYLINE in space".to_owned())));
            }
            let corners = own
                .vertices()
                .map(|vertex| (Point::new(vertex.location.x, vertex.location.y), vertex.bulge));
            Ok(polyline(&corners.collect::<Vec<_>>(), own.flags & 1 == 1))
        }
        _ => Err(entity.fault(Fault::Unknown(entity.name.to_owned()))),
    }
}

fn polyline(corners: &[(Point, f64)], closed: bool) -> Vec<Edge> {
    let next = corners.iter().cycle().skip(1);
    let count = if closed { corners.len() } else { corners.len().saturating_sub(1) };
    let pairs = corners.iter().zip(next).take(count);
    pairs.map(|(&(from, bulge), &(to, _))| Edge::bulged(from, to, bulge)).collect()
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
            Edge::bulged(from, to, arc.bulge())
        }
    }
}
