//! What sheets say, by key, in the words of one language: a file of texts in Fluent's format.
//!
//! Promised: British words are all there, and hold for whatever another language leaves out; a file that was read
//! asks for nothing that no sheet tells. Not promised: mistakes of a survey, and what the command line says of itself,
//! which stay English.

mod read;
mod text;

pub use read::{LanguageError, MOST_BYTES};
pub(crate) use text::text;
pub use text::{Called, Said, Text, Value, capital, figure, in_british, sentence};

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentResource, FluentValue};
use std::collections::HashMap;
use std::fmt;
use std::sync::{LazyLock, Mutex, OnceLock, PoisonError};

/// The texts that hold for every other language as well, to begin another with.
pub const BRITISH: &str = include_str!("british.ftl");
const AMERICAN: &str = include_str!("american.ftl");

static BRITAIN: LazyLock<Language> = LazyLock::new(|| Language::built_in("British", ""));
static AMERICA: LazyLock<Language> = LazyLock::new(|| Language::built_in("American", AMERICAN));
/// British texts and terms by key.
static TEXTS: LazyLock<HashMap<&str, British>> = LazyLock::new(|| {
    let british = |written| British { written, read: OnceLock::new() };
    read::entries(BRITISH).map(|(key, written)| (key, british(written))).collect()
});

/// A text as it is written, and as it is read once it is asked for: a run asks for few.
struct British {
    written: &'static str,
    read: OnceLock<Option<FluentResource>>,
}

/// Languages of files, each for as long as the program runs: a run meets few, and every sheet shares them.
static OWN: Mutex<Vec<&'static Language>> = Mutex::new(Vec::new());

/// A value as it goes into a text: a number counts where the language has a plural.
pub type Figure<'a> = FluentValue<'a>;

/// Texts of one language.
pub struct Language {
    /// What it is told by: its name where it is built in, or else all that its file says.
    source: String,
    /// Its own texts, and every term.
    bundle: FluentBundle<FluentResource>,
    /// Names of parts, places and makes, as well.
    names: Vec<(String, String)>,
}

impl Language {
    /// British words.
    pub fn british() -> &'static Language {
        &BRITAIN
    }

    /// American words.
    pub fn american() -> &'static Language {
        &AMERICA
    }

    /// The language of a file.
    ///
    /// # Errors
    /// Where the file is not one of texts, or has a text, a term or a value that no sheet knows.
    pub fn of_file(bytes: &[u8]) -> Result<&'static Language, LanguageError> {
        let text = read::text(bytes)?;
        let mut own = OWN.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = own.iter().find(|known| known.source == text) {
            return Ok(known);
        }
        let language: &Language = Box::leak(Box::new(Language::read(text, text)?));
        own.push(language);
        Ok(language)
    }

    /// The texts of `over`, and for the rest the British ones.
    fn read(source: &str, over: &str) -> Result<Language, LanguageError> {
        let over = read::resource(over)?;
        // Where nothing lies over it, every name is its own.
        let plain = over.entries().next().is_none();
        if !plain {
            read::known(&read::resource(BRITISH)?, &over)?;
        }
        let tag = read::tag(&over).or_else(|| read::tag(british_text(read::TAG)?));
        let mut bundle = FluentBundle::new_concurrent(tag.into_iter().collect());
        // The marks are for writing that runs from right to left, which the sheets have no letters for.
        bundle.set_use_isolating(false);
        for (_, term) in TEXTS.iter().filter(|(key, _)| key.starts_with('-')) {
            bundle.add_resource_overriding(read::resource(term.written)?);
        }
        bundle.add_resource_overriding(over);
        let mut language = Language { source: source.to_owned(), bundle, names: Vec::new() };
        if !plain {
            let keys = read::entries(BRITISH).map(|(key, _)| key);
            let keys = keys.filter(|key| NAMES.iter().any(|begin| key.starts_with(begin)));
            let both = keys.map(|key| (Language::british().tell(key, []), language.tell(key, [])));
            let mut names: Vec<_> = both.filter(|(one, own)| one != own).collect();
            names.sort_by_key(|(one, _)| std::cmp::Reverse(one.len()));
            language.names = names;
        }
        Ok(language)
    }

    /// One that a test reads; of a mistake in it nothing is left but the keys.
    fn built_in(name: &str, over: &str) -> Language {
        Language::read(name, over).unwrap_or_else(|_| Language {
            source: name.to_owned(),
            bundle: FluentBundle::new_concurrent(Vec::new()),
            names: Vec::new(),
        })
    }

    /// The language as HTML names it, with its script where that is said: `en`, `zh-Hant`.
    pub fn lang(&self) -> String {
        let tag = self.bundle.locales.first();
        tag.map_or_else(String::new, |tag| match tag.script {
            Some(script) => format!("{}-{script}", tag.language),
            None => tag.language.to_string(),
        })
    }

    /// The text of a key with the values that it asks for; the key itself where there is no such text.
    pub fn tell<'a>(
        &'a self,
        key: &str,
        values: impl IntoIterator<Item = (&'a str, Figure<'a>)>,
    ) -> String {
        self.known(key, values).unwrap_or_else(|| key.to_owned())
    }

    /// The same; none where there is no such text.
    pub fn known<'a>(
        &'a self,
        key: &str,
        values: impl IntoIterator<Item = (&'a str, Figure<'a>)>,
    ) -> Option<String> {
        let own = self.bundle.get_message(key).and_then(|text| text.value());
        let pattern = own.or_else(|| read::pattern(british_text(key)?, key))?;
        // What is missing is named in the text; files are held against it when they are read.
        let values = values.into_iter().collect();
        let told = self.bundle.format_pattern(pattern, Some(&values), &mut Vec::new());
        Some(told.into_owned())
    }

    /// What a room has to tell.
    pub fn say(&self, text: &Text) -> String {
        match text {
            Text::Keyed(key, values) => {
                let values = values.iter().map(|(name, value)| match value {
                    Text::Count(count) => (*name, (*count).into()),
                    text => (*name, self.say(text).into()),
                });
                self.tell(key, values)
            }
            Text::Name(name) => self.named(name),
            Text::Given(given) => given.clone(),
            Text::Count(count) => count.to_string(),
            Text::Row(texts) => {
                let all = texts.iter().map(|text| sentence(&self.say(text)));
                all.collect::<Vec<_>>().join(" ")
            }
        }
    }

    /// A name that the program has given, as of a member, or several in a row. A name that the joiner has given does not
    /// come here.
    pub fn named(&self, name: &str) -> String {
        if self.names.is_empty() {
            return name.to_owned();
        }
        let mut said = String::with_capacity(name.len());
        let mut rest = name;
        while !rest.is_empty() {
            let begins = said.is_empty() || !said.ends_with(in_a_word) || rest.starts_with(' ');
            let known = self.names.iter().find(|(british, _)| {
                let after = rest.strip_prefix(british.as_str());
                begins && after.is_some_and(|after| !after.starts_with(in_a_word))
            });
            let letter = rest.chars().next().map_or(rest.len(), char::len_utf8);
            let (own, length) = known.map_or_else(
                || (rest.get(..letter).unwrap_or_default(), letter),
                |(british, own)| (own.as_str(), british.len()),
            );
            said += own;
            rest = rest.get(length..).unwrap_or_default();
        }
        said
    }
}

/// What the keys of names begin with: of parts, places and makes, and of what a finding is about.
const NAMES: [&str; 2] = ["name-", "matter-"];

/// The British text of a key.
fn british_text(key: &str) -> Option<&'static FluentResource> {
    let text = TEXTS.get(key)?;
    text.read.get_or_init(|| read::resource(text.written).ok()).as_ref()
}

/// Whether a letter is part of a word, as in a name with a hyphen.
fn in_a_word(letter: char) -> bool {
    letter.is_alphanumeric() || letter == '-'
}

/// By what makes it what it is, so that whoever holds two settings against each other sees another language.
impl fmt::Debug for Language {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Language({:?})", self.source)
    }
}

impl PartialEq for Language {
    fn eq(&self, other: &Language) -> bool {
        self.source == other.source
    }
}

impl Default for &Language {
    fn default() -> Self {
        Language::british()
    }
}
