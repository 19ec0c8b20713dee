//! Stiles and rails: each with its own measures, or those of the sash.

use super::mouldings::{Shaped, Wood};
use crate::geometry::{COINCIDENT, PerSide, Side};
use crate::input::{Optional, Reader, Spanned, show};
use crate::survey::file::members::{GrooveTable, MemberTable, RebateTable, TenonTable};
use crate::survey::file::sash::SashTable;
use crate::survey::values::{Kind, Member, OldGlazing, Tenon};

/// What is known of each member.
pub(super) struct Members(pub(super) PerSide<MemberDraft>);

/// What is known of a member.
pub(super) struct MemberDraft {
    pub(super) width: Option<Spanned<f64>>,
    pub(super) thickness: Option<Spanned<f64>>,
    old: Option<OldGlazing>,
    tenon: Option<Tenon>,
    moulding: Option<Shaped>,
}

impl Members {
    pub(super) fn new(
        table: &Spanned<Box<SashTable>>,
        kind: Option<Kind>,
        name: &str,
        reader: &mut Reader<'_>,
    ) -> Members {
        Members(PerSide::from_fn(|side| {
            reader.at_part(format!("{name}: {}", member_name(kind, side)));
            member(table, side, reader)
        }))
    }

    /// How far the old rebate or groove of a member reaches from the sight edge.
    pub(super) fn old_width(&self, side: Side) -> Option<f64> {
        self.0.get(side).old.map(|old| old.width())
    }

    /// The members, if everything is known of each.
    pub(super) fn settle(&self) -> Option<PerSide<Member>> {
        let [left, right, bottom, top] = Side::ALL.map(|side| {
            let draft = self.0.get(side);
            Some(Member {
                width: draft.width.as_ref()?.value,
                thickness: draft.thickness.as_ref()?.value,
                old: draft.old?,
                tenon: draft.tenon,
                moulding: draft.moulding.as_ref()?.moulding.clone(),
            })
        });
        Some(PerSide { left: left?, right: right?, bottom: bottom?, top: top? })
    }
}

fn member(sash: &Spanned<Box<SashTable>>, side: Side, reader: &mut Reader<'_>) -> MemberDraft {
    let own = sash.member.as_ref().and_then(|members| members.on(side)).map(|given| &*given.value);
    let width = face_width(sash, own, side, reader);
    let thickness = own.and_then(|own| own.thickness.clone()).or_else(|| sash.thickness.clone());
    let (wide, thick) = (width.value(), thickness.value());
    let old = old_glazing(sash, own, wide, thick, reader);
    let shape = own.and_then(|own| own.moulding.as_ref()).or(sash.moulding.as_ref());
    let moulding = Shaped::new(shape, reader);
    if let Some(moulding) = &moulding {
        let wood = Wood {
            width: wide.map(|wide| (wide, "the width of the member")),
            under: thick.zip(old).map(|(thick, old)| thick - old.depth()),
        };
        moulding.check(&wood, reader);
    }
    let tenon = own.and_then(|own| own.tenon.as_ref());
    MemberDraft {
        tenon: tenon.and_then(|tenon| member_tenon(tenon, wide, thick, reader)),
        width,
        thickness,
        old,
        moulding,
    }
}

fn face_width(
    sash: &Spanned<Box<SashTable>>,
    own: Option<&MemberTable>,
    side: Side,
    reader: &mut Reader<'_>,
) -> Option<Spanned<f64>> {
    let stiles = sash.stiles.as_ref();
    let rails = sash.rails.as_ref();
    let (single, both) = match side {
        Side::Left => (stiles.map(|t| &t.left), stiles.map(|t| &t.width)),
        Side::Right => (stiles.map(|t| &t.right), stiles.map(|t| &t.width)),
        Side::Bottom => (rails.map(|t| &t.bottom), rails.map(|t| &t.width)),
        Side::Top => (rails.map(|t| &t.top), rails.map(|t| &t.width)),
    };
    let width = own
        .and_then(|own| own.width.clone())
        .or_else(|| single.cloned().flatten())
        .or_else(|| both.cloned().flatten());
    if width.is_none() {
        missing_width(sash, side, reader);
    }
    width
}

/// Notes that the width of a member is nowhere to be found, unless it was refused somewhere.
fn missing_width(sash: &Spanned<Box<SashTable>>, side: Side, reader: &mut Reader<'_>) {
    let (key, one, table) = if side.is_upright() {
        ("stiles", "stile", sash.stiles.place())
    } else {
        ("rails", "rail", sash.rails.place())
    };
    let at = &sash.place.key;
    let elsewhere = [format!("{at}.member.{side}.width"), format!("{at}.{key}.width")];
    if elsewhere.iter().any(|key| reader.was_refused(key)) {
        return;
    }
    let expected = format!("the face width of each {one}: `width`, or one for each");
    match table {
        Some(place) => reader.missing(place, &side.to_string(), &expected),
        None => reader.missing(&sash.place, key, &expected),
    }
}

/// How the old glass is held: by the member's own table, or the sash's.
fn old_glazing(
    sash: &Spanned<Box<SashTable>>,
    own: Option<&MemberTable>,
    wide: Option<f64>,
    thick: Option<f64>,
    reader: &mut Reader<'_>,
) -> Option<OldGlazing> {
    let own = own.map(|own| (own.rebate.as_ref(), own.groove.as_ref()));
    let says = own.filter(|(rebate, groove)| rebate.is_some() || groove.is_some());
    let (rebate, groove) = says.unwrap_or((sash.rebate.as_ref(), sash.groove.as_ref()));
    match (rebate, groove) {
        (Some(_), Some(groove)) => {
            let expected = "either a rebate or a groove, not both".to_owned();
            reader.contradict(&groove.place, expected, "a single member goes under `member`");
            None
        }
        (Some(rebate), None) => check_rebate(rebate, wide, thick, "member", reader)
            .map(|(width, depth)| OldGlazing::Rebate { width, depth }),
        (None, Some(groove)) => check_groove(groove, wide, thick, reader),
        (None, None) => {
            let about = "the old rebate, such as rebate = { width = 9, depth = 17 }, or the groove";
            reader.missing(&sash.place, "rebate", about);
            None
        }
    }
}

/// Width and depth of a rebate that leaves wood beside and under it.
pub(super) fn check_rebate(
    rebate: &RebateTable,
    wide: Option<f64>,
    thick: Option<f64>,
    what: &str,
    reader: &mut Reader<'_>,
) -> Option<(f64, f64)> {
    let (mut sound, half) = (true, what == "bar");
    if let (Some(width), Some(wide)) = (&rebate.width, wide) {
        let most = if half { wide / 2.0 } else { wide };
        if width.value >= most - COINCIDENT {
            let share = if half { "half the width" } else { "the width" };
            let expected = format!("less than {} mm, {share} of the {what}", show(most));
            reader.contradict(&width.place, expected, "width runs from the sight edge to the wall");
            sound = false;
        }
    }
    if let (Some(depth), Some(thick)) = (&rebate.depth, thick)
        && depth.value >= thick - COINCIDENT
    {
        let expected = format!("less than {} mm, the thickness of the {what}", show(thick));
        reader.contradict(
            &depth.place,
            expected,
            "depth runs from the glazing face to the platform",
        );
        sound = false;
    }
    let (width, depth) = (rebate.width.as_ref()?.value, rebate.depth.as_ref()?.value);
    sound.then_some((width, depth))
}

fn check_groove(
    groove: &GrooveTable,
    wide: Option<f64>,
    thick: Option<f64>,
    reader: &mut Reader<'_>,
) -> Option<OldGlazing> {
    let mut sound = true;
    if let (Some(depth), Some(wide)) = (&groove.depth, wide)
        && depth.value >= wide - COINCIDENT
    {
        let expected = format!("less than {} mm, the width of the member", show(wide));
        reader.contradict(&depth.place, expected, "depth runs from the sight edge into the member");
        sound = false;
    }
    if let (Some(near), Some(width), Some(thick)) = (&groove.from_face, &groove.width, thick)
        && near.value + width.value >= thick - COINCIDENT
    {
        let expected = format!(
            "less than {} mm: with {} mm from the face the groove must stay within the thickness of {} mm",
            show((thick - near.value).max(0.0)),
            show(near.value),
            show(thick),
        );
        reader.contradict(
            &width.place,
            expected,
            "as it stands the groove comes out of the room face",
        );
        sound = false;
    }
    let from_face = groove.from_face.as_ref()?.value;
    let (width, depth) = (groove.width.as_ref()?.value, groove.depth.as_ref()?.value);
    sound.then_some(OldGlazing::Groove { from_face, width, depth })
}

fn member_tenon(
    tenon: &TenonTable,
    wide: Option<f64>,
    thick: Option<f64>,
    reader: &mut Reader<'_>,
) -> Option<Tenon> {
    if let (Some(haunch), Some(wide)) = (&tenon.haunch, wide)
        && haunch.value >= wide - COINCIDENT
    {
        let expected = format!("less than {} mm, the width of the member", show(wide));
        reader.contradict(&haunch.place, expected, "as it stands all of the tenon would be haunch");
    }
    let haunch = tenon.haunch.value_or(0.0);
    check_tenon(tenon.thickness.as_ref(), tenon.from_face.as_ref(), thick, reader)
        .map(|within| Tenon { haunch, ..within })
}

/// A tenon without a haunch, within `thick` mm of wood.
pub(super) fn check_tenon(
    thickness: Option<&Spanned<f64>>,
    from_face: Option<&Spanned<f64>>,
    thick: Option<f64>,
    reader: &mut Reader<'_>,
) -> Option<Tenon> {
    let (thickness, from_face) = (thickness?, from_face?);
    if let Some(thick) = thick
        && from_face.value + thickness.value > thick + COINCIDENT
    {
        let expected = format!(
            "at most {} mm: with {} mm from the face the tenon must lie within the thickness of {} mm",
            show((thick - from_face.value).max(0.0)),
            show(from_face.value),
            show(thick),
        );
        reader.contradict(&thickness.place, expected, "");
    }
    Some(Tenon { thickness: thickness.value, from_face: from_face.value, haunch: 0.0 })
}

/// What a joiner calls a member when the kind of sash is not known yet.
fn member_name(kind: Option<Kind>, side: Side) -> &'static str {
    kind.unwrap_or(Kind::Fixed).member_name(side)
}
