//! Remarks of a survey stay where its keys come and go.

use toml_edit::{Decor, DocumentMut, Item, Table, TableLike, Value};

/// Takes a key out. Lines of remarks before it and those given stay: before what comes next, or else after what came
/// last. They come back where there is neither.
pub(super) fn remove(table: &mut dyn TableLike, own: &str, more: &str) -> String {
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
pub(super) fn remarks(text: &str) -> String {
    if text.contains('#') { text.to_owned() } else { String::new() }
}

/// Writes a remark before what stands there. One that is not the table's own is parted from it by an empty line.
pub(super) fn lay_before(decor: &mut Decor, remark: &str, is_table: bool) {
    let old = prefix(decor);
    let parts = if is_table && !old.starts_with('\n') { "\n" } else { "" };
    decor.set_prefix(format!("{remark}{parts}{old}"));
}

/// Remarks for which there is no other place stand at the end.
pub(super) fn keep_at_end(document: &mut DocumentMut, remark: &str) {
    let old = document.trailing().as_str().unwrap_or_default();
    document.set_trailing(format!("{remark}{old}"));
}

/// Puts a value under a key that is not there. The first value of a table is given what stands before the table after
/// it, down to an empty line: that is about the whole, as before [`remove`] took the last value out.
pub(super) fn put(table: &mut dyn TableLike, own: &str, value: Value) {
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

pub(super) fn prefix(decor: &Decor) -> &str {
    decor.prefix().and_then(|before| before.as_str()).unwrap_or_default()
}

/// Does something with what stands around a key, or around the first that is written of what it heads.
pub(super) fn with_decor(table: &mut dyn TableLike, key: &str, change: &mut dyn FnMut(&mut Decor)) {
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

#[cfg(test)]
mod tests {
    use crate::page::text::{Change, changed};
    use proptest::prelude::*;
    use toml_edit::DocumentMut;

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

    proptest! {
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
