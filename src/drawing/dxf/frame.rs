//! What stands around the entities: header, tables, blocks and objects.
//!
//! Kept to what the DXF reference asks of a file: a table a kind of name, the two blocks that every
//! drawing has, and the root dictionary. Every record has a handle and says who owns it.

use super::Record;
use super::entities::entities;
use crate::drawing::{LineKind, Scene};
use kurbo::{Point, Rect};
use std::borrow::Cow;

/// An open-licence face with Latin, Greek and Cyrillic letters; a reader without it takes its own.
const FACE: &str = "DejaVuSans.ttf";

/// The whole file.
pub(super) fn file(scene: &Scene) -> Vec<Record> {
    let mut handles = Handles(0);
    let extents = scene.extents();
    let mut body = vec![section("TABLES")];
    let frame = tables(scene, extents, &mut handles);
    body.extend(frame.records);
    body.extend([end_of_section(), section("BLOCKS")]);
    body.extend(block("*Model_Space", &frame.model, false, &mut handles));
    body.extend(block("*Paper_Space", &frame.paper, true, &mut handles));
    body.extend([end_of_section(), section("ENTITIES")]);
    body.extend(entities(scene, &frame.model, || handles.next()));
    body.extend([end_of_section(), section("OBJECTS")]);
    body.extend(objects(&mut handles));
    body.extend([end_of_section(), Record::new("EOF")]);
    let mut file = header(extents, handles.next());
    file.extend(body);
    file
}

/// Gives out handles in ascending order.
struct Handles(u32);

impl Handles {
    fn next(&mut self) -> String {
        self.0 += 1;
        format!("{:X}", self.0)
    }
}

fn section(name: &'static str) -> Record {
    Record::new("SECTION").text(2, name)
}

fn end_of_section() -> Record {
    Record::new("ENDSEC")
}

fn header(extents: Rect, seed: String) -> Vec<Record> {
    let (low, high) = (Point::new(extents.x0, extents.y0), Point::new(extents.x1, extents.y1));
    let head = section("HEADER")
        .text(9, "$ACADVER")
        .text(1, "AC1015")
        .text(9, "$DWGCODEPAGE")
        .text(3, "ANSI_1252")
        .text(9, "$INSBASE")
        .point(10, Point::ZERO)
        .text(9, "$EXTMIN")
        .point(10, low)
        .text(9, "$EXTMAX")
        .point(10, high)
        .text(9, "$LIMMIN")
        .flat(10, low.x, low.y)
        .text(9, "$LIMMAX")
        .flat(10, high.x, high.y)
        .text(9, "$LTSCALE")
        .real(40, 1.0)
        .text(9, "$CLAYER")
        .text(8, "0")
        .text(9, "$HANDSEED")
        .text(5, seed)
        .text(9, "$MEASUREMENT")
        .whole(70, 1_u8)
        .text(9, "$LWDISPLAY")
        .whole(290, 1_u8)
        .text(9, "$INSUNITS")
        .whole(70, 4_u8);
    vec![head, end_of_section()]
}

/// The tables, and the handles that other sections refer to.
struct Tables {
    records: Vec<Record>,
    model: String,
    paper: String,
}

/// One table under construction.
struct Table<'a> {
    handles: &'a mut Handles,
    name: &'static str,
    class: &'static str,
    handle: String,
    records: Vec<Record>,
}

impl<'a> Table<'a> {
    fn new(handles: &'a mut Handles, name: &'static str, class: &'static str) -> Table<'a> {
        let handle = handles.next();
        Table { handles, name, class, handle, records: Vec::new() }
    }

    /// Adds a record; `fill` writes what follows handle, owner and class.
    fn row(&mut self, fill: impl FnOnce(Record) -> Record) -> String {
        let handle = self.handles.next();
        // The one record whose handle stands under another code.
        let code = if self.name == "DIMSTYLE" { 105 } else { 5 };
        let record = Record::new(self.name)
            .text(code, handle.clone())
            .text(330, self.handle.clone())
            .text(100, "AcDbSymbolTableRecord")
            .text(100, self.class);
        self.records.push(fill(record));
        handle
    }

    fn finish(self, into: &mut Vec<Record>) {
        let head = Record::new("TABLE")
            .text(2, self.name)
            .text(5, self.handle)
            .whole(330, 0_u8)
            .text(100, "AcDbSymbolTable")
            .whole(70, self.records.len());
        into.push(if self.name == "DIMSTYLE" { head.text(100, "AcDbDimStyleTable") } else { head });
        into.extend(self.records);
        into.push(Record::new("ENDTAB"));
    }
}

fn tables(scene: &Scene, extents: Rect, handles: &mut Handles) -> Tables {
    let mut tables = Vec::new();
    let mut table = Table::new(handles, "VPORT", "AcDbViewportTableRecord");
    table.row(|record| view(record, extents));
    table.finish(&mut tables);

    let mut table = Table::new(handles, "LTYPE", "AcDbLinetypeTableRecord");
    for name in ["ByBlock", "ByLayer"] {
        table.row(|record| pattern(record, name, "", &[]));
    }
    for kind in LineKind::ALL {
        let [name, words] = named(kind);
        table.row(|record| pattern(record, name, words, kind.pattern()));
    }
    table.finish(&mut tables);

    let mut table = Table::new(handles, "LAYER", "AcDbLayerTableRecord");
    table.row(|record| layer(record, "0".into(), 7, LineKind::Continuous, "-3".into()));
    for (drawn, _) in scene.layers() {
        let (name, colour) = (drawn.name.clone(), drawn.colour.dxf_number());
        let width = drawn.width.hundredths().to_string();
        table.row(|record| layer(record, name, colour, drawn.kind, width));
    }
    table.finish(&mut tables);

    let mut table = Table::new(handles, "STYLE", "AcDbTextStyleTableRecord");
    table.row(|record| style(record, "Standard"));
    table.finish(&mut tables);
    Table::new(handles, "VIEW", "AcDbViewTableRecord").finish(&mut tables);
    Table::new(handles, "UCS", "AcDbUCSTableRecord").finish(&mut tables);

    let mut table = Table::new(handles, "APPID", "AcDbRegAppTableRecord");
    table.row(|record| record.text(2, "ACAD").whole(70, 0_u8));
    table.finish(&mut tables);

    let mut table = Table::new(handles, "DIMSTYLE", "AcDbDimStyleTableRecord");
    table.row(|record| record.text(2, "Standard").whole(70, 0_u8));
    table.finish(&mut tables);

    let mut table = Table::new(handles, "BLOCK_RECORD", "AcDbBlockTableRecord");
    let model = table.row(|record| record.text(2, "*Model_Space").whole(340, 0_u8));
    let paper = table.row(|record| record.text(2, "*Paper_Space").whole(340, 0_u8));
    table.finish(&mut tables);
    Tables { records: tables, model, paper }
}

/// The view that a reader opens with: everything, with a little room.
fn view(record: Record, extents: Rect) -> Record {
    let (width, height) = (extents.width().max(1.0), extents.height().max(1.0));
    let middle = extents.center();
    // Readers' windows are wider than high.
    let shown = 1.1 * height.max(width / 1.5);
    let record = record
        .text(2, "*ACTIVE")
        .whole(70, 0_u8)
        .flat(10, 0.0, 0.0)
        .flat(11, 1.0, 1.0)
        .flat(12, middle.x, middle.y)
        .flat(13, 0.0, 0.0)
        .flat(14, 10.0, 10.0)
        .flat(15, 10.0, 10.0)
        .real(16, 0.0)
        .real(26, 0.0)
        .real(36, 1.0)
        .point(17, Point::ZERO)
        .real(40, shown)
        .real(41, 1.5)
        .real(42, 50.0);
    let record = [43, 44, 50, 51].into_iter().fold(record, |record, code| record.real(code, 0.0));
    [(71, 0_u8), (72, 100), (73, 1), (74, 3), (75, 0), (76, 0), (77, 0), (78, 0)]
        .into_iter()
        .fold(record, |record, (code, value)| record.whole(code, value))
}

/// The name of a kind of line, and the words for it.
fn named(kind: LineKind) -> [&'static str; 2] {
    match kind {
        LineKind::Continuous => ["CONTINUOUS", "Solid line"],
        LineKind::Dashed => ["DASHED", "Dashed __ __ __ __"],
        LineKind::Spaced => ["SPACED", "Dashed spaced __    __    __"],
        LineKind::Chain => ["CHAIN", "Long-dashed dotted ____ . ____ ."],
        LineKind::DoubleChain => ["DOUBLE_CHAIN", "Long-dashed double-dotted ____ . . ____ . ."],
    }
}

fn pattern(record: Record, name: &'static str, words: &'static str, pattern: &[f64]) -> Record {
    let record = record
        .text(2, name)
        .whole(70, 0_u8)
        .text(3, words)
        .whole(72, 65_u8)
        .whole(73, pattern.len())
        .real(40, pattern.iter().sum());
    pattern.iter().enumerate().fold(record, |record, (index, length)| {
        // Gaps are negative.
        record.real(49, if index % 2 == 0 { *length } else { -length }).whole(74, 0_u8)
    })
}

/// `width` as the DXF reference counts it: hundredths of a millimetre, or -3 for the reader's own.
fn layer(
    record: Record,
    name: Cow<'static, str>,
    colour: u8,
    kind: LineKind,
    width: String,
) -> Record {
    let [kind, _] = named(kind);
    record.text(2, name).whole(70, 0_u8).whole(62, colour).text(6, kind).text(370, width)
}

fn style(record: Record, name: &'static str) -> Record {
    record
        .text(2, name)
        .whole(70, 0_u8)
        .real(40, 0.0)
        .real(41, 1.0)
        .real(50, 0.0)
        .whole(71, 0_u8)
        .real(42, 2.5)
        .text(3, FACE)
        .text(4, "")
}

fn block(name: &'static str, owner: &str, on_paper: bool, handles: &mut Handles) -> [Record; 2] {
    let mut start = |kind: &'static str, class: &'static str| {
        let record = Record::new(kind)
            .text(5, handles.next())
            .text(330, owner.to_owned())
            .text(100, "AcDbEntity");
        let record = if on_paper { record.whole(67, 1_u8) } else { record };
        record.text(8, "0").text(100, class)
    };
    let begin = start("BLOCK", "AcDbBlockBegin")
        .text(2, name)
        .whole(70, 0_u8)
        .point(10, Point::ZERO)
        .text(3, name)
        .text(1, "");
    [begin, start("ENDBLK", "AcDbBlockEnd")]
}

fn objects(handles: &mut Handles) -> [Record; 2] {
    let (root, groups) = (handles.next(), handles.next());
    let dictionary = |handle: &str, owner: &str| {
        Record::new("DICTIONARY")
            .text(5, handle.to_owned())
            .text(330, owner.to_owned())
            .text(100, "AcDbDictionary")
            .whole(281, 1_u8)
    };
    [
        dictionary(&root, "0").text(3, "ACAD_GROUP").text(350, groups.clone()),
        dictionary(&groups, &root),
    ]
}
