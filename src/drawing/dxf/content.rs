//! The marks of a scene as entities, through the `dxf` crate.

use super::pairs::{self, Record};
use super::{DxfError, Entities, Form, layer_name, texts};
use crate::drawing::{Across, HATCH_WIDTH, Mark, Scene, Text, Up};
use crate::geometry::{Arc, Edge, Outline};
use ::dxf::entities::{self as ent, Entity, EntityType};
use ::dxf::enums::{AcadVersion, HorizontalTextJustification, VerticalTextJustification};
use ::dxf::{Drawing, LwPolylineVertex, Point as DxfPoint};
use kurbo::Point;
use std::f64::consts::{PI, TAU};

/// Every mark of the scene as entity records without handles and owners.
pub(super) fn entities(scene: &Scene, form: Form) -> Result<Entities, DxfError> {
    let mut drawing = Drawing::new();
    drawing.header.version = match form {
        Form::R2000 => AcadVersion::R2000,
        Form::R12 => AcadVersion::R12,
    };
    let mut given = 0;
    for (layer, marks) in scene.marks() {
        let name = layer_name(layer, form);
        for mark in marks {
            let hatching = matches!(mark, Mark::Hatching(_));
            let specific = match mark {
                Mark::Stroke(edge) | Mark::Hatching(edge) => single(&edge),
                Mark::Closed(outline) => match form {
                    Form::R2000 => EntityType::LwPolyline(light_polyline(&outline)),
                    Form::R12 => EntityType::Polyline(old_polyline(&outline, &mut drawing)),
                },
                Mark::Text(text) => EntityType::Text(lettering(&text)),
                Mark::Tint(..) => continue,
            };
            let mut entity = Entity::new(specific);
            entity.common.layer.clone_from(&name);
            // By layer; the crate's own default would be a hairline.
            entity.common.lineweight_enum_value = -1;
            if hatching {
                entity.common.line_type_name = "CONTINUOUS".into();
                entity.common.lineweight_enum_value = HATCH_WIDTH.hundredths().into();
            }
            drawing.add_entity(entity);
            given += 1;
        }
    }
    let records = written(&drawing)?;
    let parts = ["VERTEX", "SEQEND"];
    let written = records.iter().filter(|record| !parts.contains(&&*record.name)).count();
    if written != given {
        return Err(DxfError::Lost { given, written });
    }
    Ok(mended(records, form))
}

/// The records of the section of entities, as the crate writes them.
fn written(drawing: &Drawing) -> Result<Vec<Record>, DxfError> {
    let mut bytes = Vec::new();
    drawing.save(&mut bytes).map_err(|error| DxfError::Crate(error.to_string()))?;
    let text = String::from_utf8(bytes).map_err(|error| DxfError::Crate(error.to_string()))?;
    let is_entities = |record: &Record| {
        record.name == "SECTION"
            && record.pairs.iter().any(|p| p.code == 2 && p.value == "ENTITIES")
    };
    Ok(pairs::from_text(&text)?
        .into_iter()
        .skip_while(|record| !is_entities(record))
        .skip(1)
        .take_while(|record| record.name != "ENDSEC")
        .collect())
}

/// Takes away what the frame sets anew, and what the form does not know.
fn mended(records: Vec<Record>, form: Form) -> Vec<Record> {
    let mut layer = None;
    records
        .into_iter()
        .map(|mut record| {
            record.pairs.retain(|pair| match pair.code {
                5 | 330 => false,
                // Class marks and widths came after R12.
                100 | 370 => form == Form::R2000,
                _ => true,
            });
            // The crate leaves vertices on layer 0 and gives the end of a polyline none.
            if matches!(record.name.as_str(), "VERTEX" | "SEQEND") {
                record.pairs.retain(|pair| pair.code != 8);
                record.pairs.splice(0..0, layer.clone());
            } else {
                layer = record.pairs.iter().find(|pair| pair.code == 8).cloned();
            }
            record
        })
        .collect::<Vec<Record>>()
}

/// Twelve decimals, which is what the crate writes, and no minus zero.
fn tidy(value: f64) -> f64 {
    (value * 1e12).round() / 1e12 + 0.0
}

fn point(at: Point) -> DxfPoint {
    DxfPoint::new(tidy(at.x), tidy(at.y), 0.0)
}

fn single(edge: &Edge) -> EntityType {
    match edge {
        Edge::Line(line) => EntityType::Line(ent::Line::new(point(line.p0), point(line.p1))),
        Edge::Arc(arc) => round(arc),
    }
}

/// An arc, which DXF always counts anticlockwise; or a circle.
fn round(arc: &Arc) -> EntityType {
    if arc.sweep.abs() >= TAU - 1e-12 {
        return EntityType::Circle(ent::Circle::new(point(arc.centre), tidy(arc.radius)));
    }
    let (from, to) = if arc.sweep < 0.0 {
        (arc.start + arc.sweep, arc.start)
    } else {
        (arc.start, arc.start + arc.sweep)
    };
    let degrees = |angle: f64| tidy(angle.to_degrees().rem_euclid(360.0));
    EntityType::Arc(ent::Arc::new(point(arc.centre), tidy(arc.radius), degrees(from), degrees(to)))
}

/// Where each piece of a closed outline begins, and its bulge. No piece turns by more than half.
fn vertices(outline: &Outline) -> Vec<(Point, f64)> {
    let mut vertices = Vec::new();
    for edge in outline.edges() {
        match edge {
            Edge::Line(line) => vertices.push((line.p0, 0.0)),
            Edge::Arc(arc) if arc.sweep.abs() <= PI => vertices.push((edge.start(), arc.bulge())),
            Edge::Arc(arc) => {
                let bulge = Arc { sweep: arc.sweep / 2.0, ..*arc }.bulge();
                vertices.extend([(edge.start(), bulge), (edge.at(0.5), bulge)]);
            }
        }
    }
    vertices
}

fn light_polyline(outline: &Outline) -> ent::LwPolyline {
    let vertices = vertices(outline).into_iter().map(|(at, bulge)| LwPolylineVertex {
        x: tidy(at.x),
        y: tidy(at.y),
        bulge: tidy(bulge),
        ..LwPolylineVertex::default()
    });
    let mut polyline = ent::LwPolyline { vertices: vertices.collect(), ..Default::default() };
    polyline.set_is_closed(true);
    polyline
}

fn old_polyline(outline: &Outline, drawing: &mut Drawing) -> ent::Polyline {
    let mut polyline = ent::Polyline::default();
    polyline.set_is_closed(true);
    for (at, bulge) in vertices(outline) {
        let vertex = ent::Vertex { location: point(at), bulge: tidy(bulge), ..Default::default() };
        polyline.add_vertex(drawing, vertex);
    }
    polyline
}

fn lettering(text: &Text) -> ent::Text {
    ent::Text {
        value: texts::escaped(&text.value),
        // Only text that is held at the left of its base line is placed by the first point.
        location: point(text.at),
        second_alignment_point: point(text.at),
        text_height: tidy(text.height),
        rotation: tidy(text.turn.rem_euclid(360.0)),
        horizontal_text_justification: match text.across {
            Across::Left => HorizontalTextJustification::Left,
            Across::Centre => HorizontalTextJustification::Center,
            Across::Right => HorizontalTextJustification::Right,
        },
        vertical_text_justification: match text.up {
            Up::Base => VerticalTextJustification::Baseline,
            Up::Middle => VerticalTextJustification::Middle,
            Up::Top => VerticalTextJustification::Top,
        },
        ..Default::default()
    }
}
