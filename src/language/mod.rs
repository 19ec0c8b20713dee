//! What sheets say, by key, in the words of one language: a file of texts in Fluent's format.
//!
//! Promised: British words are all there, and hold for whatever another language leaves out; a file that was read
//! asks for nothing that no sheet tells. Not promised: that every sentence has a key. The glass order and the
//! workshop sheet take their titles, the heads of their tables and what stands in boxes from here; of other
//! sentences only the words of the trade are exchanged.

mod read;

pub use read::LanguageError;

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource, FluentValue};
use std::fmt;
use std::sync::{LazyLock, Mutex, PoisonError};

/// The texts that hold for every other language as well, to begin another with.
pub const BRITISH: &str = include_str!("british.ftl");
const AMERICAN: &str = include_str!("american.ftl");

static BRITAIN: LazyLock<Language> = LazyLock::new(|| Language::built_in("British", BRITISH, ""));
static AMERICA: LazyLock<Language> =
    LazyLock::new(|| Language::built_in("American", BRITISH, AMERICAN));

/// Languages of files, each for as long as the program runs: a run meets few, and every sheet shares them.
static OWN: Mutex<Vec<&'static Language>> = Mutex::new(Vec::new());

/// A value that goes into a text: a number counts where the language has a plural.
pub type Value<'a> = FluentValue<'a>;

/// Texts of one language.
pub struct Language {
    /// What it is told by: its name where it is built in, or else all that its file says.
    source: String,
    bundle: FluentBundle<FluentResource>,
    /// Words of the trade in British and in this language, the longest first; only those that differ.
    terms: Vec<(String, String)>,
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
        let language: &Language = Box::leak(Box::new(Language::read(text, BRITISH, text)?));
        own.push(language);
        Ok(language)
    }

    /// The texts of `over`, and for the rest those of `under`.
    fn read(source: &str, under: &str, over: &str) -> Result<Language, LanguageError> {
        let under = read::resource(under)?;
        let over = read::resource(over)?;
        read::known(&under, &over)?;
        let tag = read::tag(&over).or_else(|| read::tag(&under));
        let mut bundle = FluentBundle::new_concurrent(tag.into_iter().collect());
        // The marks are for writing that runs from right to left, which the sheets have no letters for.
        bundle.set_use_isolating(false);
        let terms = read::terms(&under, &over);
        bundle.add_resource_overriding(under);
        bundle.add_resource_overriding(over);
        Ok(Language { source: source.to_owned(), bundle, terms })
    }

    /// One that a test reads; of a mistake in it nothing is left but the keys.
    fn built_in(name: &str, under: &str, over: &str) -> Language {
        Language::read(name, under, over).unwrap_or_else(|_| Language {
            source: name.to_owned(),
            bundle: FluentBundle::new_concurrent(Vec::new()),
            terms: Vec::new(),
        })
    }

    /// The text of a key with the values that it asks for; the key itself where there is no such text.
    pub fn tell<'a>(
        &'a self,
        key: &str,
        values: impl IntoIterator<Item = (&'a str, Value<'a>)>,
    ) -> String {
        let text = self.bundle.get_message(key);
        let Some(pattern) = text.and_then(|text| text.value()) else { return key.to_owned() };
        let values: FluentArgs = values.into_iter().collect();
        // What is missing is named in the text; files are held against it when they are read.
        self.bundle.format_pattern(pattern, Some(&values), &mut Vec::new()).into_owned()
    }

    /// `words` with the words of the trade exchanged for those of this language.
    pub fn exchanged(&self, words: &str) -> String {
        let mut said = words.to_owned();
        for (british, own) in &self.terms {
            said = exchange(&said, british, own);
            said = exchange(&said, &capital(british), &capital(own));
        }
        said
    }
}

/// What a word of the trade may end in beside its own letters.
const ENDINGS: [&str; 3] = ["", "s", "ed"];

/// `words` with every `from` replaced that is a word or its plural. What is part of a name, as of a sash, stays.
fn exchange(words: &str, from: &str, to: &str) -> String {
    let mut said = String::with_capacity(words.len());
    let mut rest = words;
    while let Some((before, after)) = rest.split_once(from) {
        said += before;
        let begins = !said.ends_with(|c: char| c.is_alphanumeric() || c == '-');
        let (ending, behind) =
            after.split_at(after.find(|c: char| !c.is_alphabetic()).unwrap_or(after.len()));
        let numbered =
            behind.strip_prefix('-').is_some_and(|behind| behind.starts_with(char::is_numeric));
        let is_word = begins && ENDINGS.contains(&ending) && !numbered;
        said += if is_word { to } else { from };
        rest = after;
    }
    said + rest
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
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
