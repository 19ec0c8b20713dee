//! A survey's text key by key. A key is named as mistakes name it: `sash[2].rebate.width`, lists from 1.

use super::declared::{is_text, spelled};
use toml_edit::{ArrayOfTables, Decor, DocumentMut, InlineTable, Item, Table, TableLike, Value};

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
                lay_before(decor, &whole, true)
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

/// Takes a key out. Lines of remarks before it and those given stay: before what comes next, or else after what came
/// last. They come back where there is neither.
fn remove(table: &mut dyn TableLike, own: &str, more: &str) -> String {
    let mut remark = String::new();
    with_decor(table, own, &mut |decor| remark = remarks(prefix(decor)));
    remark += &remarks(more);
    // As they are written: values stand before tables.
    let mut keys: Vec<(bool, String)> =
        table.iter().map(|(key, item)| (!stands_among_values(item), key.to_owned())).collect();
    keys.sort_by_key(|(is_table, _)| *is_table);
    let at = keys.iter().position(|(_, key)| key == own);
    table.remove(own);
    let Some(at) = at.filter(|_| !remark.is_empty()) else { return remark };
    match (keys.get(at + 1), at.checked_sub(1).and_then(|last| keys.get(last))) {
        (Some((is_table, next)), _) => {
            with_decor(table, next, &mut |decor| lay_before(decor, &remark, *is_table));
        }
        (None, Some((false, last)))
            if with_last_value(table, last, &mut |decor| {
                let old = decor.suffix().and_then(|old| old.as_str()).unwrap_or_default();
                let after = format!("{old}\n{}", remark.trim());
                decor.set_suffix(after);
            }) => {}
        _ => return remark,
    }
    String::new()
}

/// The text if any of it is a remark.
fn remarks(text: &str) -> String {
    if text.contains('#') { text.to_owned() } else { String::new() }
}

/// Writes a remark before what stands there. One that is not the table's own is parted from it by an empty line.
fn lay_before(decor: &mut Decor, remark: &str, is_table: bool) {
    let old = prefix(decor);
    let parts = if is_table && !old.starts_with('\n') { "\n" } else { "" };
    decor.set_prefix(format!("{remark}{parts}{old}"));
}

/// Remarks for which there is no other place stand at the end.
fn keep_at_end(document: &mut DocumentMut, remark: &str) {
    let old = document.trailing().as_str().unwrap_or_default();
    document.set_trailing(format!("{remark}{old}"));
}

/// Puts a value under a key that is not there. The first value of a table is given what stands before the table after
/// it, down to an empty line: that is about the whole, as before [`remove`] took the last value out.
fn put(table: &mut dyn TableLike, own: &str, value: Value) {
    table.insert(own, Item::Value(value));
    let others = || table.iter().filter(|(key, _)| *key != own);
    if others().any(|(_, item)| stands_among_values(item)) {
        return;
    }
    let Some(next) = others().next().map(|(key, _)| key.to_owned()) else { return };
    let mut remark = None;
    with_decor(table, &next, &mut |decor| {
        if let Some((whole, rest)) = prefix(decor).split_once("\n\n") {
            remark = Some(format!("{whole}\n"));
            decor.set_prefix(format!("\n{rest}"));
        }
    });
    if let Some(remark) = remark {
        with_decor(table, own, &mut |decor| decor.set_prefix(remark.clone()));
    }
}

/// Whether it is written before every table: a value, or one whose key has dots.
fn stands_among_values(item: &Item) -> bool {
    item.is_value() || item.as_table().is_some_and(Table::is_dotted)
}

fn prefix(decor: &Decor) -> &str {
    decor.prefix().and_then(|before| before.as_str()).unwrap_or_default()
}

/// Does something with what stands around a key, or around the first that is written of what it heads.
fn with_decor(table: &mut dyn TableLike, key: &str, change: &mut dyn FnMut(&mut Decor)) {
    match table.get_mut(key) {
        Some(Item::Table(inner)) if inner.is_implicit() || inner.is_dotted() => {
            let first = inner.iter().next().map(|(first, _)| first.to_owned());
            if let Some(first) = first {
                with_decor(inner, &first, change);
            }
        }
        Some(Item::Table(next)) => change(next.decor_mut()),
        Some(Item::ArrayOfTables(list)) => {
            list.get_mut(0).into_iter().for_each(|next| change(next.decor_mut()));
        }
        _ => table.key_mut(key).into_iter().for_each(|mut key| change(key.leaf_decor_mut())),
    }
}

/// Does something with what stands around the last value of a key; whether it has one.
fn with_last_value(
    table: &mut dyn TableLike,
    key: &str,
    change: &mut dyn FnMut(&mut Decor),
) -> bool {
    match table.get_mut(key) {
        Some(Item::Value(value)) => change(value.decor_mut()),
        Some(Item::Table(inner)) => {
            let last = inner.iter().last().map(|(last, _)| last.to_owned());
            return last.is_some_and(|last| with_last_value(inner, &last, change));
        }
        _ => return false,
    }
    true
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

    // A field is empty for a moment while it is typed anew.
    #[test]
    fn remarks_stay_where_a_field_is_emptied() {
        let cases = [
            (
                "# A\nhouse = \"Mill\"\n[defaults]\nwind = 1\n",
                "house",
                "# A\n\n[defaults]\nwind = 1\n",
            ),
            (
                "# A\nhouse = \"Mill\"\n\n[[sash]]\nid = \"b\"\n",
                "house",
                "# A\n\n[[sash]]\nid = \"b\"\n",
            ),
            (
                "# A\nhouse = \"Mill\"\n[profile.usual]\nwind = 1\n",
                "house",
                "# A\n\n[profile.usual]\nwind = 1\n",
            ),
            (
                "[[sash]]\n# A\nid = \"b\"\nsight.width = 1\n",
                "sash[1].id",
                "[[sash]]\n# A\nsight.width = 1\n",
            ),
            (
                "[[sash]]\n# A\nid = \"b\"\n# B\nwind = 1\n",
                "sash[1].id",
                "[[sash]]\n# A\n# B\nwind = 1\n",
            ),
            (
                "[[sash]]\nid = \"b\" # c\n# A\nwind = 1\n",
                "sash[1].wind",
                "[[sash]]\nid = \"b\" # c\n# A\n",
            ),
        ];
        for (before, key, after) in cases {
            assert_eq!(changed(before, &[Change::Type(key, "")]).unwrap(), after);
        }
        let both = [Change::Type("other", "1"), Change::Type("house", "")];
        let found = changed(cases[0].0, &both).unwrap();
        assert_eq!(found, "# A\nother = 1\n[defaults]\nwind = 1\n");
        // Typed again, it stands where it stood.
        let again = [Change::Type("house", ""), Change::Type("house", "Mill")];
        for (before, key, _) in cases.into_iter().filter(|(_, key, _)| *key == "house") {
            let found = changed(before, &again).unwrap();
            assert_eq!(found.replace("\n\n", "\n"), before.replace("\n\n", "\n"), "{key}");
            assert_eq!(changed(&found, &again).unwrap(), found);
            let list = [Change::Type("house", ""), Change::Add("other.list")];
            assert!(changed(before, &list).unwrap().starts_with("# A\nother"), "{before}");
            let twice = [again, again].concat();
            assert_eq!(changed(before, &twice).unwrap(), found);
        }
    }

    #[test]
    fn remarks_stay_where_a_part_or_all_is_taken_out() {
        let empty = |key| Change::Type(key, "");
        let first = Change::TakeOut("sash[1]");
        let cases: [(&str, &[Change], &str); 6] = [
            // A table whose only key is emptied goes, what stood above it does not.
            (
                "# A\n[defaults]\nwind = 1\n[[sash]]\nid = \"b\"\n",
                &[empty("defaults.wind")],
                "# A\n\n[[sash]]\nid = \"b\"\n",
            ),
            (
                "[defaults]\n# A\nwind = 1\n[[sash]]\nid = \"b\"\n",
                &[empty("defaults.wind")],
                "# A\n\n[[sash]]\nid = \"b\"\n",
            ),
            (
                "# A\nhouse = \"Mill\"\n[defaults]\nwind = 1\n",
                &[Change::Type("other.list", "1"), empty("house"), empty("other.list")],
                "# A\n\n[defaults]\nwind = 1\n",
            ),
            (
                "# A\n\n# b\n[[sash]]\nid = \"b\"\n[[sash]]\nid = \"c\"\n",
                &[first],
                "# A\n\n[[sash]]\nid = \"c\"\n",
            ),
            ("# A\nhouse = \"Mill\"\n", &[empty("house")], "# A\n"),
            (
                "# A\nhouse = \"Mill\"\n[[sash]]\nid = \"b\"\n",
                &[empty("house"), first, Change::Type("house", "Hill")],
                "# A\n\nhouse = \"Hill\"\n",
            ),
        ];
        for (before, changes, after) in cases {
            assert_eq!(changed(before, changes).unwrap(), after, "{before}");
        }
    }

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

        // What is said about the whole stands first, whatever is emptied, typed, added and taken out below it.
        #[test]
        fn the_remark_about_the_whole_stays_first(
            changes in proptest::collection::vec(
                (
                    proptest::sample::select(vec![
                        "house", "notes", "other", "other.one", "defaults.wind", "defaults.rebate.width", "defaults.sight.width",
                        "profile.usual.wind", "profile.usual.rebate.depth", "sash[1].unit.build_up", "sash[1].muntins", "defaults.unit", "sash", "sash[1]", "sash[2]", "sash[1].id",
                        "sash[1].sight.width", "sash[1].bars", "sash[1].bars[1]", "sash[1].bars[1].centre",
                    ]),
                    proptest::sample::select(vec!["", "1", "+", "-"]),
                ),
                1..14,
            ),
            start in proptest::sample::select(vec![
                "house = \"x\"\n[defaults]\nrabbet = { width = 9 } # old\n[[sash]]\nid = \"a\"\nbars = [{ centre = 3 }]\n",
                "\n[profile.usual]\nwind = 1\nrebate.depth = 2\n\n# b\n[[sash]]\nid = \"a\"\n[[sash.bars]]\ncentre = 3\n",
                "defaults.wind = 1\n# c\ndefaults.rebate.width = 2\n[[sash]]\nsight = { width = 5 }\n",
            ]),
        ) {
            let mut text = format!("# Kept.\n{start}");
            for (key, what) in changes {
                let change = match what {
                    "+" => Change::Add(key),
                    "-" => Change::TakeOut(key),
                    typed => Change::Type(key, typed),
                };
                let Some(next) = changed(&text, &[change]) else { continue };
                prop_assert!(next.parse::<DocumentMut>().is_ok(), "{text}{change:?}\n{next}");
                prop_assert!(next.starts_with("# Kept."), "{text}{change:?}\n{next}");
                let lines = |text: &str| text.lines().filter(|line| line.starts_with('#')).count();
                prop_assert!(what == "-" || lines(&next) == lines(&text), "{text}{change:?}\n{next}");
                text = next;
            }
        }
    }
}
