//! Tables of the file.

use super::entry::{Entry, Key, Presence, seen, tidy};
use super::reader::{Node, Place, Reader, Seen};
use toml::de::{DeTable, DeValue};

/// A table being read.
pub(super) struct Open<'n, 't> {
    table: &'n DeTable<'t>,
    place: Place,
}

impl<'n, 't> Open<'n, 't> {
    /// Opens `node` and notes every key that is not in `known`.
    pub(super) fn new(
        node: &'n Node<'t>,
        known: &[Key],
        expected: String,
        reader: &mut Reader,
    ) -> Option<Open<'n, 't>> {
        let DeValue::Table(table) = node.get_ref() else {
            reader.refuse(node.span(), expected, None);
            return None;
        };
        let is_known =
            |word: &str| known.iter().any(|key| key.name == word || key.aliases.contains(&word));
        let names: Vec<&str> = known.iter().map(|key| key.name).collect();
        for word in table.keys().filter(|word| !is_known(word.get_ref())) {
            reader.unknown_key(word.span(), word.get_ref(), &names);
        }
        Some(Open { table, place: reader.place(node.span()) })
    }

    /// Reads the value of `key`, under whichever spelling it stands.
    pub(super) fn take<E: Entry>(&self, key: Key, reader: &mut Reader) -> Option<Seen<E::Value>> {
        let spelled = std::iter::once(&key.name).chain(key.aliases);
        let mut nodes = spelled.filter_map(|name| Some((name, self.table.get(*name)?)));
        let Some((name, node)) = nodes.next() else {
            if matches!(key.presence, Presence::Needed) {
                let about = tidy(key.about);
                let mut about = about.trim_end_matches('.').to_owned();
                if let Some(first) = about.get_mut(..1) {
                    first.make_ascii_lowercase();
                }
                if E::PLAIN {
                    about = format!("{about} ({})", E::expected());
                }
                reader.missing(&self.place, key.name, &about);
            }
            return None;
        };
        for (other, again) in nodes {
            let expected = format!("one of `{name}` and `{other}`, which mean the same");
            reader.inside(format!(".{}", key.name), |r| r.refuse(again.span(), expected, None));
        }
        reader.inside(format!(".{}", key.name), |reader| seen::<E>(node, reader))
    }
}

/// Tables whose keys can be filled in from another table of the same kind.
pub(super) trait Fill: Sized {
    /// Fills every missing key from `usual`.
    fn fill(self, usual: &Self) -> Self;
}

impl<T: Fill + Clone> Fill for Option<Seen<T>> {
    fn fill(self, usual: &Self) -> Self {
        match (self, usual) {
            (Some(own), Some(usual)) => Some(own.map(|table| table.fill(&usual.value))),
            (own, usual) => own.or_else(|| usual.clone()),
        }
    }
}

/// Declares a table of the file: a struct of what was read, its reader and its schema.
///
/// After each key comes `needed`, `usual "toml"` (its default, as TOML writes it), or
/// `otherwise "words"` (what holds without it).
macro_rules! table {
    (@presence needed) => { $crate::survey::entry::Presence::Needed };
    (@presence usual $value:literal) => { $crate::survey::entry::Presence::Usual($value) };
    (@presence otherwise $words:literal) => { $crate::survey::entry::Presence::Otherwise($words) };
    (@key $key:ident [$($alias:literal)*] [$($about:literal)+] $($presence:tt)+) => {
        $crate::survey::entry::Key {
            name: stringify!($key),
            aliases: &[$($alias),*],
            about: concat!($($about, "\n"),+),
            presence: $crate::survey::table::table!(@presence $($presence)+),
        }
    };
    (
        $(#[doc = $doc:literal])+
        $table:ident {
            $(
                $(#[doc = $about:literal])+
                $key:ident $(| $alias:literal)* : $entry:ty, $presence:ident $($value:literal)?;
            )+
        }
    ) => {
        $(#[doc = $doc])+
        #[derive(Debug, Clone, Default)]
        pub(in crate::survey) struct $table {
            $(
                $(#[doc = $about])+
                pub(in crate::survey) $key: Option<$crate::survey::reader::Seen<
                    <$entry as $crate::survey::entry::Entry>::Value>>,
            )+
        }

        impl $table {
            const KEYS: &'static [$crate::survey::entry::Key] = &[
                $($crate::survey::table::table!(
                    @key $key [$($alias)*] [$($about)+] $presence $($value)?)),+
            ];
        }

        impl $crate::survey::entry::Entry for $table {
            type Value = $table;

            const PLAIN: bool = false;

            fn read(
                node: &$crate::survey::reader::Node<'_>,
                reader: &mut $crate::survey::reader::Reader,
            ) -> Option<$table> {
                let open = $crate::survey::table::Open::new(
                    node, Self::KEYS, Self::expected(), reader)?;
                Some($table {
                    $($key: open.take::<$entry>(
                        $crate::survey::table::table!(
                            @key $key [$($alias)*] [$($about)+] $presence $($value)?),
                        reader,
                    ),)+
                })
            }

            fn expected() -> String {
                let keys: Vec<&str> = Self::KEYS.iter().map(|key| key.name).collect();
                format!("a table with {}", keys.join(", "))
            }

            fn schema() -> serde_json::Value {
                let schemas = [$(<$entry as $crate::survey::entry::Entry>::schema()),+];
                let keys: Vec<_> = Self::KEYS.iter().copied().zip(schemas).collect();
                $crate::survey::entry::table_schema(concat!($($doc, "\n"),+), &keys)
            }

            fn gather(path: &str, found: &mut Vec<$crate::survey::asked::Asked>) {
                let [$($key),+] = Self::KEYS else { return };
                $($crate::survey::asked::note::<$entry>(path, $key, found);)+
            }
        }

        impl $crate::survey::table::Fill for $table {
            fn fill(self, usual: &Self) -> Self {
                $table { $($key: self.$key.or_else(|| usual.$key.clone()),)+ }
            }
        }
    };
}

pub(super) use table;
