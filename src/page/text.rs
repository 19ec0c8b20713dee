//! A survey's text key by key. A key is named as mistakes name it: `sash[2].rebate.width`, lists from 1.

use super::declared::{is_text, spelled};
use super::remarks::{keep_at_end, lay_before, prefix, put, remarks, remove, with_decor};
use toml_edit::{ArrayOfTables, DocumentMut, InlineTable, Item, Table, TableLike, Value};

/// One step of the way to a key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Step {
    pub name: String,
    /// Which part of a list, from 0.
    pub index: Option<usize>,
}

/// Longest way to a key; a longer one is nobody's.
const MOST_STEPS: usize = 8;

/// The steps of a key; none of what is no key.
pub(super) fn steps(key: &str) -> Option<Vec<Step>> {
    let step = |part: &str| {
        let (name, index) = match part.split_once('[') {
            Some((name, rest)) => {
                let number: usize = rest.strip_suffix(']')?.parse().ok()?;
                (name, Some(number.checked_sub(1)?))
            }
            None => (part, None),
        };
        let plain = |letter: char| letter.is_ascii_lowercase() || letter == '_';
        let name = Some(name).filter(|name| !name.is_empty() && name.chars().all(plain))?;
        Some(Step { name: name.to_owned(), index })
    };
    let steps: Vec<Step> = key.split('.').map(step).collect::<Option<_>>()?;
    (steps.len() <= MOST_STEPS).then_some(steps)
}

/// What is done to a survey on the page; keys as mistakes name them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Change<'a> {
    /// A field is typed into; nothing takes the key out.
    Type(&'a str, &'a str),
    /// A part is added to a list.
    Add(&'a str),
    /// A part is taken out of a list.
    TakeOut(&'a str),
}

/// The text of a survey with what is done to it on the page; none where it is no TOML, or has no such place.
pub fn changed(text: &str, changes: &[Change]) -> Option<String> {
    let mut document: DocumentMut = text.parse().ok()?;
    for change in changes {
        change.make(&mut document)?;
    }
    Some(document.to_string())
}

impl Change<'_> {
    /// Makes it; none where there is no such place. What was said about nothing at all stands before what comes first.
    pub(super) fn make(self, document: &mut DocumentMut) -> Option<()> {
        let whole = remarks(document.trailing().as_str().unwrap_or_default());
        let whole = Some(whole).filter(|whole| document.is_empty() && !whole.is_empty());
        match self {
            Change::Type(key, typed) => set(document, &steps(key)?, typed.trim(), is_text(key)),
            Change::Add(list) => add(document, &steps(list)?),
            Change::TakeOut(part) => take_out(document, &steps(part)?),
        }?;
        let first = document.iter().next().map(|(first, _)| first.to_owned());
        if let Some((whole, first)) = whole.zip(first) {
            document.set_trailing("");
            with_decor(document.as_table_mut(), &first, &mut |decor| {
                lay_before(decor, &whole, true);
            });
        }
        Some(())
    }
}

fn part(item: &Item, index: Option<usize>) -> Option<&dyn TableLike> {
    match (item, index) {
        (item, None) => item.as_table_like(),
        (Item::ArrayOfTables(list), Some(index)) => list.get(index).map(|one| one as _),
        (Item::Value(Value::Array(list)), Some(index)) => {
            list.get(index)?.as_inline_table().map(|one| one as _)
        }
        _ => None,
    }
}

fn part_mut(item: &mut Item, index: Option<usize>) -> Option<&mut dyn TableLike> {
    match (item, index) {
        (item, None) => item.as_table_like_mut(),
        (Item::ArrayOfTables(list), Some(index)) => list.get_mut(index).map(|one| one as _),
        (Item::Value(Value::Array(list)), Some(index)) => {
            list.get_mut(index)?.as_inline_table_mut().map(|one| one as _)
        }
        _ => None,
    }
}

fn item<'d>(document: &'d DocumentMut, steps: &[Step]) -> Option<&'d Item> {
    let (last, way) = steps.split_last()?;
    let mut table: &dyn TableLike = document.as_table();
    for step in way {
        table = part(table.get(spelled(table, &step.name))?, step.index)?;
    }
    table.get(spelled(table, &last.name)).filter(|item| !item.is_none())
}

/// What is written at a key, as one would type it.
pub(super) fn written(document: &DocumentMut, steps: &[Step]) -> Option<String> {
    let value = item(document, steps)?.as_value()?;
    Some(match value {
        Value::String(text) => text.value().clone(),
        other => other.clone().decorated("", "").to_string(),
    })
}

/// How many parts a list has.
pub(super) fn count(document: &DocumentMut, steps: &[Step]) -> usize {
    match item(document, steps) {
        Some(Item::ArrayOfTables(list)) => list.len(),
        Some(Item::Value(Value::Array(list))) => list.len(),
        _ => 0,
    }
}

/// The table in which the last step is a key. A table that is not there is made, as that of the defaults where they
/// have one: the table of a sash stands for the whole of theirs.
fn table_of<'d>(document: &'d mut DocumentMut, steps: &[Step]) -> Option<&'d mut dyn TableLike> {
    let usual = |way: &[Step]| -> Option<Item> {
        let (sash, rest) = way.split_first()?;
        let (Step { name, .. }, []) = rest.split_first()? else { return None };
        let defaults = document.get("defaults")?.as_table_like()?;
        (sash.name == "sash").then(|| defaults.get(spelled(defaults, name)).cloned()).flatten()
    };
    let mut made = Vec::new();
    for upto in 1..steps.len() {
        made.push(usual(steps.get(..upto)?).and_then(|item| item.into_value().ok()));
    }
    let (_, way) = steps.split_last()?;
    let mut table: &mut dyn TableLike = document.as_table_mut();
    for (step, usual) in way.iter().zip(made) {
        let name = spelled(table, &step.name);
        if step.index.is_none() && !table.contains_key(name) {
            let fresh = usual.unwrap_or_else(|| Value::InlineTable(InlineTable::new()));
            put(table, name, fresh.decorated(" ", ""));
        }
        table = part_mut(table.get_mut(name)?, step.index)?;
    }
    Some(table)
}

/// Writes what was typed, as a text if nothing else can stand there; takes the key out where that is nothing. None where
/// there is no such place.
fn set(document: &mut DocumentMut, steps: &[Step], typed: &str, is_text: bool) -> Option<()> {
    let (last, _) = steps.split_last()?;
    if last.index.is_some() {
        return None;
    }
    if typed.is_empty() && item(document, steps).is_none() {
        return Some(());
    }
    let table = table_of(document, steps)?;
    let own = spelled(table, &last.name);
    if typed.is_empty() {
        let mut homeless = String::new();
        let mut way = steps;
        // A table that says nothing is no table.
        while let Some((Step { name, index: None }, above)) = way.split_last() {
            let table = table_of(document, way)?;
            let own = spelled(table, name).to_owned();
            homeless = remove(table, &own, &homeless);
            if !table.is_empty() {
                break;
            }
            way = above;
        }
        keep_at_end(document, &homeless);
        return Some(());
    }
    let value = if is_text { Value::from(typed).decorated(" ", "") } else { value(typed) };
    match table.get_mut(own) {
        Some(Item::Value(old)) => {
            let decor = old.decor().clone();
            *old = value;
            *old.decor_mut() = decor;
        }
        Some(Item::Table(_) | Item::ArrayOfTables(_)) => return None,
        _ => {
            let own = own.to_owned();
            put(table, &own, value);
        }
    }
    Some(())
}

/// Adds a part to a list. A sash is like the last one, under a name of its own.
fn add(document: &mut DocumentMut, steps: &[Step]) -> Option<()> {
    let (last, way) = steps.split_last()?;
    if last.index.is_some() {
        return None;
    }
    if way.is_empty() {
        return if last.name == "sash" { add_sash(document) } else { None };
    }
    let table = table_of(document, steps)?;
    let own = spelled(table, &last.name);
    if !table.contains_key(own) {
        put(table, own, Value::Array(toml_edit::Array::new()));
    }
    match table.get_mut(own)? {
        Item::ArrayOfTables(list) => list.push(Table::new()),
        Item::Value(Value::Array(list)) => list.push(InlineTable::new()),
        _ => return None,
    }
    Some(())
}

fn add_sash(document: &mut DocumentMut) -> Option<()> {
    let sashes = document.entry("sash").or_insert(Item::ArrayOfTables(ArrayOfTables::new()));
    let list = sashes.as_array_of_tables_mut()?;
    let known: Vec<String> =
        list.iter().filter_map(|sash| Some(sash.get("id")?.as_str()?.to_owned())).collect();
    let free = |number: &usize| !known.iter().any(|id| *id == format!("sash-{number}"));
    let number = (list.len() + 1..=list.len() + known.len() + 1).find(free)?;
    let mut sash = Table::new();
    sash.insert("id", toml_edit::value(format!("sash-{number}")));
    if let Some(before) = known.last() {
        sash.insert("like", toml_edit::value(before.as_str()));
    }
    list.push(sash);
    Some(())
}

/// Takes a part out of a list, with the remark above it; what stands above that, down to an empty line, stays.
fn take_out(document: &mut DocumentMut, steps: &[Step]) -> Option<()> {
    let (last, _) = steps.split_last()?;
    let index = last.index?;
    item(document, steps)?;
    let table = table_of(document, steps)?;
    let own = spelled(table, &last.name).to_owned();
    let mut homeless = String::new();
    let left = match table.get_mut(&own)? {
        Item::ArrayOfTables(list) => {
            let gone = list.get(index)?.decor().clone();
            let whole = prefix(&gone).split_once("\n\n").map_or("", |(whole, _)| whole);
            homeless = remarks(&format!("{whole}\n"));
            list.remove(index);
            if let Some(next) = list.get_mut(index).filter(|_| !homeless.is_empty()) {
                lay_before(next.decor_mut(), &homeless, true);
                homeless.clear();
            }
            list.len()
        }
        Item::Value(Value::Array(list)) if index < list.len() => {
            list.remove(index);
            list.len()
        }
        _ => return None,
    };
    if left == 0 {
        homeless = remove(table, &own, &homeless);
    }
    keep_at_end(document, &homeless);
    Some(())
}

/// What was typed as TOML has it: a number, a list, yes or no; or else text, which the reader of surveys understands
/// with its unit.
fn value(typed: &str) -> Value {
    let number = |text: &str| {
        let plain = text.chars().all(|letter| letter.is_ascii_digit() || ".-+".contains(letter));
        let value = text.parse::<Value>().ok().filter(|_| plain && !text.starts_with('+'));
        value.filter(|value| value.is_integer() || value.is_float())
    };
    // On much of the earth a comma stands before the tenths.
    let decimal = match typed.split_once(',') {
        Some((whole, rest))
            if !rest.contains(',') && ends_in_digit(whole) && begins_with_digit(rest) =>
        {
            format!("{whole}.{rest}")
        }
        _ => typed.to_owned(),
    };
    let made = match typed {
        "true" => Some(Value::from(true)),
        "false" => Some(Value::from(false)),
        list if list.starts_with('[') || list.starts_with('{') => list.parse().ok(),
        _ => number(&decimal),
    };
    let made = made.unwrap_or_else(|| Value::from(decimal));
    made.decorated(" ", "")
}

fn ends_in_digit(text: &str) -> bool {
    text.ends_with(|letter: char| letter.is_ascii_digit())
        && text.chars().all(|letter| letter.is_ascii_digit() || letter == '-')
}

fn begins_with_digit(text: &str) -> bool {
    text.starts_with(|letter: char| letter.is_ascii_digit())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_is_typed_is_written_as_one_would() {
        let cases = [
            ("540", "540"),
            ("12.5", "12.5"),
            ("12,5", "12.5"),
            ("12,5 cm", "\"12.5 cm\""),
            ("22 1/16 in", "\"22 1/16 in\""),
            ("true", "true"),
            ("[400, 401]", "[400, 401]"),
            ("4-6-4", "\"4-6-4\""),
            ("nan", "\"nan\""),
            ("1e9", "\"1e9\""),
            ("a \"b\"", "'a \"b\"'"),
        ];
        for (typed, text) in cases {
            assert_eq!(value(typed).decorated("", "").to_string(), text);
        }
        assert_eq!(steps("sash[2].sight.width").unwrap().len(), 3);
        for wrong in
            ["", "sash[0]", "sash[x].a", "a..b", "A", "a b", "../x", "a[1", "a.b.c.d.e.f.g.h.i"]
        {
            assert_eq!(steps(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn other_spellings_of_a_key_are_its_own() {
        let text = "house = \"x\"\n[[sash]]\nid = \"a\"\nrabbet = { width = 9, depth = 17 } # old\n\
                    muntins = [{ center = 300, width = 22 }]\nmolding = { shape = \"ovolo\" }\n";
        let mut document: DocumentMut = text.parse().unwrap();
        let at = |key: &str| steps(key).unwrap();
        assert_eq!(written(&document, &at("sash[1].rebate.depth")).unwrap(), "17");
        assert_eq!(written(&document, &at("sash[1].bars[1].centre")).unwrap(), "300");
        assert_eq!(written(&document, &at("sash[1].moulding.shape")).unwrap(), "ovolo");
        for (key, typed) in [("sash[1].rebate.depth", "18"), ("sash[1].bars[1].centre", "12 in")] {
            set(&mut document, &at(key), typed, false).unwrap();
        }
        add(&mut document, &at("sash[1].bars")).unwrap();
        assert_eq!(count(&document, &at("sash[1].bars")), 2);
        take_out(&mut document, &at("sash[1].bars[2]")).unwrap();
        let expected = text.replace("17", "18").replace("300", "\"12 in\"");
        assert_eq!(document.to_string(), expected);
        set(&mut document, &at("sash[1].moulding.shape"), "", false).unwrap();
        assert_eq!(document.to_string(), expected.replace("molding = { shape = \"ovolo\" }\n", ""));
    }

    proptest! {
        // Whatever is typed into whatever field, the text stays TOML, and what was typed is found again.
        #[test]
        fn any_key_and_any_text_leave_a_survey_that_can_be_read(
            key in "(sash(\\[[0-3]\\])?|house|defaults|workshop)(\\.(sight|rebate|bars(\\[[0-2]\\])?|width|id)){0,3}",
            typed in "\\PC{0,20}",
        ) {
            let mut document: DocumentMut =
                "house = \"x\"\n[[sash]]\nid = \"a\"\nsight = { width = 5 }\n[[sash.bars]]\ncentre = 3\n".parse().unwrap();
            let Some(steps) = steps(&key) else { return Ok(()) };
            let _ = add(&mut document, &steps);
            if set(&mut document, &steps, typed.trim(), false).is_some() && !typed.trim().is_empty() {
                prop_assert!(written(&document, &steps).is_some());
            }
            let _ = take_out(&mut document, &steps);
            prop_assert!(document.to_string().parse::<DocumentMut>().is_ok());
        }
    }
}
