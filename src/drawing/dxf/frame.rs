//! What stands around the entities: header, tables, blocks and objects.
//!
//! Kept to what the DXF reference asks of a file: a table a kind of name, the two blocks that every
//! drawing has, and the root dictionary. Every record has a handle and says who owns it.

use super::pairs::{Pair, Record};
use super::{Entities, Form, layer_name};
use crate::drawing::{Layer, LineKind, Scene};
use kurbo::{Point, Rect};

/// An open-licence face with Latin, Greek and Cyrillic letters; a reader without it takes its own.
const FACE: &str = "DejaVuSans.ttf";

/// A whole file of the 2000 form.
pub(super) fn r2000(scene: &Scene, entities: Entities) -> Vec<Record> {
    let mut handles = Handles(0);
    let extents = scene.extents();
    let mut body = vec![section("TABLES")];
    let frame = tables(scene, extents, &mut handles);
    body.extend(frame.records);
    body.extend([end_of_section(), section("BLOCKS")]);
    for (name, record, on_paper) in
        [("*Model_Space", &frame.model, false), ("*Paper_Space", &frame.paper, true)]
    {
        body.extend(block(name, record, on_paper, &mut handles));
    }
    body.extend([end_of_section(), section("ENTITIES")]);
    for mut entity in entities {
        let (handle, owner) = (handles.next(), frame.model.clone());
        let own = [Pair { code: 5, value: handle }, Pair { code: 330, value: owner }];
        entity.pairs.splice(0..0, own);
        body.push(entity);
    }
    body.extend([end_of_section(), section("OBJECTS")]);
    body.extend(objects(&mut handles));
    body.extend([end_of_section(), Record::new("EOF")]);
    let mut file = header_2000(extents, &handles.next());
    file.extend(body);
    file
}

/// A whole file of release 12, which needs neither handles nor owners.
pub(super) fn r12(scene: &Scene, entities: Entities) -> Vec<Record> {
    let extents = scene.extents();
    let mut file = vec![
        Record::new("").with(999, "All lengths in millimetres"),
        corners(section("HEADER").with(9, "$ACADVER").with(1, "AC1009"), extents),
        end_of_section(),
        section("TABLES"),
    ];
    let head = |name: &str, count: usize| Record::new("TABLE").with(2, name).count(70, count);
    let end = || Record::new("ENDTAB");
    let kinds = [LineKind::Continuous, LineKind::Dashed, LineKind::Chain];
    file.push(head("LTYPE", kinds.len()));
    file.extend(kinds.map(|kind| line_kind(Record::new("LTYPE"), kind, Form::R12)));
    file.extend([end(), head("LAYER", 1 + scene.layers().count())]);
    file.push(layer(Record::new("LAYER"), "0", 7, LineKind::Continuous));
    for (drawn, _) in scene.layers() {
        let (name, colour) = (layer_name(drawn, Form::R12), drawn.colour.dxf_number());
        file.push(layer(Record::new("LAYER"), &name, colour, drawn.kind));
    }
    file.extend([end(), head("STYLE", 1), style(Record::new("STYLE"), "STANDARD"), end()]);
    file.extend([end_of_section(), section("BLOCKS"), end_of_section(), section("ENTITIES")]);
    file.extend(entities);
    file.extend([end_of_section(), Record::new("EOF")]);
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

fn section(name: &str) -> Record {
    Record::new("SECTION").with(2, name)
}

fn end_of_section() -> Record {
    Record::new("ENDSEC")
}

fn corners(header: Record, extents: Rect) -> Record {
    let (low, high) = (Point::new(extents.x0, extents.y0), Point::new(extents.x1, extents.y1));
    header
        .with(9, "$INSBASE")
        .point(10, Point::ZERO)
        .with(9, "$EXTMIN")
        .point(10, low)
        .with(9, "$EXTMAX")
        .point(10, high)
        .with(9, "$LIMMIN")
        .flat(10, low.x, low.y)
        .with(9, "$LIMMAX")
        .flat(10, high.x, high.y)
        .with(9, "$LTSCALE")
        .real(40, 1.0)
}

fn header_2000(extents: Rect, seed: &str) -> Vec<Record> {
    let head = section("HEADER")
        .with(9, "$ACADVER")
        .with(1, "AC1015")
        .with(9, "$DWGCODEPAGE")
        .with(3, "ANSI_1252");
    let head = corners(head, extents)
        .with(9, "$CLAYER")
        .with(8, "0")
        .with(9, "$HANDSEED")
        .with(5, seed)
        .with(9, "$MEASUREMENT")
        .whole(70, 1)
        .with(9, "$LWDISPLAY")
        .whole(290, 1)
        .with(9, "$INSUNITS")
        .whole(70, 4);
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
            .with(code, &*handle)
            .with(330, &*self.handle)
            .with(100, "AcDbSymbolTableRecord")
            .with(100, self.class);
        self.records.push(fill(record));
        handle
    }

    fn finish(self, into: &mut Vec<Record>) {
        let head = Record::new("TABLE")
            .with(2, self.name)
            .with(5, self.handle)
            .whole(330, 0)
            .with(100, "AcDbSymbolTable")
            .count(70, self.records.len());
        into.push(if self.name == "DIMSTYLE" { head.with(100, "AcDbDimStyleTable") } else { head });
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
        table.row(|record| pattern(record, name, "", &[], Form::R2000));
    }
    for kind in [LineKind::Continuous, LineKind::Dashed, LineKind::Chain] {
        table.row(|record| line_kind(record, kind, Form::R2000));
    }
    table.finish(&mut tables);

    let mut table = Table::new(handles, "LAYER", "AcDbLayerTableRecord");
    table.row(|record| layer(record, "0", 7, LineKind::Continuous).whole(370, -3));
    for (drawn, _) in scene.layers() {
        table.row(|record| layer_2000(record, drawn));
    }
    table.finish(&mut tables);

    let mut table = Table::new(handles, "STYLE", "AcDbTextStyleTableRecord");
    table.row(|record| style(record, "Standard"));
    table.finish(&mut tables);
    Table::new(handles, "VIEW", "AcDbViewTableRecord").finish(&mut tables);
    Table::new(handles, "UCS", "AcDbUCSTableRecord").finish(&mut tables);

    let mut table = Table::new(handles, "APPID", "AcDbRegAppTableRecord");
    table.row(|record| record.with(2, "ACAD").whole(70, 0));
    table.finish(&mut tables);

    let mut table = Table::new(handles, "DIMSTYLE", "AcDbDimStyleTableRecord");
    table.row(|record| record.with(2, "Standard").whole(70, 0));
    table.finish(&mut tables);

    let mut table = Table::new(handles, "BLOCK_RECORD", "AcDbBlockTableRecord");
    let model = table.row(|record| record.with(2, "*Model_Space").whole(340, 0));
    let paper = table.row(|record| record.with(2, "*Paper_Space").whole(340, 0));
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
        .with(2, "*ACTIVE")
        .whole(70, 0)
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
    [(71, 0), (72, 100), (73, 1), (74, 3), (75, 0), (76, 0), (77, 0), (78, 0)]
        .into_iter()
        .fold(record, |record, (code, value)| record.whole(code, value))
}

fn kind_name(kind: LineKind) -> &'static str {
    match kind {
        LineKind::Continuous => "CONTINUOUS",
        LineKind::Dashed => "DASHED",
        LineKind::Chain => "CHAIN",
    }
}

fn line_kind(record: Record, kind: LineKind, form: Form) -> Record {
    let words = match kind {
        LineKind::Continuous => "Solid line",
        LineKind::Dashed => "Dashed __ __ __ __",
        LineKind::Chain => "Long-dashed dotted ____ . ____ .",
    };
    pattern(record, kind_name(kind), words, kind.pattern(), form)
}

fn pattern(record: Record, name: &str, words: &str, pattern: &[f64], form: Form) -> Record {
    let record = record
        .with(2, name)
        .whole(70, 0)
        .with(3, words)
        .whole(72, 65)
        .count(73, pattern.len())
        .real(40, pattern.iter().sum());
    pattern.iter().enumerate().fold(record, |record, (index, length)| {
        // Gaps are negative.
        let record = record.real(49, if index % 2 == 0 { *length } else { -length });
        if form == Form::R2000 { record.whole(74, 0) } else { record }
    })
}

fn layer(record: Record, name: &str, colour: u8, kind: LineKind) -> Record {
    record.with(2, name).whole(70, 0).whole(62, colour.into()).with(6, kind_name(kind))
}

fn layer_2000(record: Record, drawn: &Layer) -> Record {
    let name = layer_name(drawn, Form::R2000);
    layer(record, &name, drawn.colour.dxf_number(), drawn.kind)
        .whole(370, drawn.width.hundredths().into())
}

fn style(record: Record, name: &str) -> Record {
    record
        .with(2, name)
        .whole(70, 0)
        .real(40, 0.0)
        .real(41, 1.0)
        .real(50, 0.0)
        .whole(71, 0)
        .real(42, 2.5)
        .with(3, FACE)
        .with(4, "")
}

fn block(name: &str, owner: &str, on_paper: bool, handles: &mut Handles) -> [Record; 2] {
    let mut start = |kind: &str, class: &str| {
        let record =
            Record::new(kind).with(5, handles.next()).with(330, owner).with(100, "AcDbEntity");
        let record = if on_paper { record.whole(67, 1) } else { record };
        record.with(8, "0").with(100, class)
    };
    let begin = start("BLOCK", "AcDbBlockBegin")
        .with(2, name)
        .whole(70, 0)
        .point(10, Point::ZERO)
        .with(3, name)
        .with(1, "");
    [begin, start("ENDBLK", "AcDbBlockEnd")]
}

fn objects(handles: &mut Handles) -> [Record; 2] {
    let (root, groups) = (handles.next(), handles.next());
    let dictionary = |handle: &str, owner: &str| {
        Record::new("DICTIONARY")
            .with(5, handle)
            .with(330, owner)
            .with(100, "AcDbDictionary")
            .whole(281, 1)
    };
    [dictionary(&root, "0").with(3, "ACAD_GROUP").with(350, &*groups), dictionary(&groups, &root)]
}
