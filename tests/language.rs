//! A second language is a file: what it says stands on the sheets, and nothing else of the program changes.

use crate::paper;
use crate::support::bench::run;
use crate::support::invented::{latin, other_letters};
use fillister::job;
use fillister::language::{BRITISH, Language};
use fillister::report::CAUTIONS;
use fillister::sheets::kit::Voice;
use fillister::sheets::{form, found};
use fillister::survey::{self, House, Paper, With};
use fluent_syntax::ast::{Entry, Expression, InlineExpression, Pattern, PatternElement};
use proc_macro2::{TokenStream, TokenTree};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;
use syn::parse::Parser;
use syn::punctuated::Punctuated;
use syn::visit::{self, Visit};
use syn::{Expr, ExprLit, ExprMethodCall, Lit, LitStr, Meta, Token};

const EXAMPLE: &str = include_str!("../examples/samphire-cottage.toml");
const AMERICAN: &str = include_str!("../src/language/american.ftl");

/// Values that a text asks for.
fn values(pattern: &Pattern<&str>) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for element in &pattern.elements {
        let PatternElement::Placeable { expression } = element else { continue };
        let (asked, inner) = match expression {
            Expression::Inline(inline) => (inline, Vec::new()),
            Expression::Select { selector, variants } => {
                (selector, variants.iter().map(|variant| values(&variant.value)).collect())
            }
        };
        if let InlineExpression::VariableReference { id } = asked {
            found.insert(id.name.to_owned());
        }
        found.extend(inner.into_iter().flatten());
    }
    found
}

/// Texts of a file and the values that each asks for; and its terms.
fn texts(file: &str) -> (BTreeMap<String, BTreeSet<String>>, BTreeSet<String>) {
    let parsed = fluent_syntax::parser::parse(file).unwrap();
    let (mut texts, mut terms) = (BTreeMap::new(), BTreeSet::new());
    for entry in parsed.body {
        match entry {
            Entry::Message(text) => {
                let asked = values(&text.value.unwrap());
                assert!(texts.insert(text.id.name.to_owned(), asked).is_none(), "{}", text.id.name);
            }
            Entry::Term(term) => assert!(terms.insert(term.id.name.to_owned()), "{}", term.id.name),
            _ => {}
        }
    }
    (texts, terms)
}

/// What the sources ask for.
#[derive(Default)]
struct Asked {
    /// Every literal that is no part of a test, with the file it stands in.
    literals: Vec<(String, String)>,
    /// Keys that are told right where they stand, with the values that go with them where these stand there too.
    told: Vec<(String, Option<BTreeSet<String>>)>,
    file: String,
}

fn literal(expression: &Expr) -> Option<String> {
    match expression {
        Expr::Lit(ExprLit { lit: Lit::Str(text), .. }) => Some(text.value()),
        _ => None,
    }
}

/// Literals of what a macro is called with.
fn literals(tokens: TokenStream, found: &mut Vec<String>) {
    for token in tokens {
        match token {
            TokenTree::Group(group) => literals(group.stream(), found),
            TokenTree::Literal(literal) => {
                found.extend(
                    syn::parse_str::<LitStr>(&literal.to_string()).map(|text| text.value()),
                );
            }
            _ => {}
        }
    }
}

/// Keys and values of every `tell!` among the tokens of another macro, which is no expression for the parser.
fn tells(tokens: TokenStream, found: &mut Vec<TokenStream>) {
    let all: Vec<TokenTree> = tokens.into_iter().collect();
    for (at, token) in all.iter().enumerate() {
        let TokenTree::Group(group) = token else { continue };
        let before = |back: usize| at.checked_sub(back).map(|at| all[at].to_string());
        if before(1).as_deref() == Some("!")
            && ["tell", "text"].map(Some).contains(&before(2).as_deref())
        {
            found.push(group.stream());
        }
        tells(group.stream(), found);
    }
}

fn name_of(expression: &Expr) -> String {
    match expression {
        Expr::Path(path) => path.path.get_ident().map_or_else(String::new, ToString::to_string),
        _ => String::new(),
    }
}

fn is_test(attributes: &[syn::Attribute]) -> bool {
    attributes.iter().any(|attribute| {
        let Meta::List(list) = &attribute.meta else { return false };
        list.path.is_ident("cfg") && list.tokens.to_string().contains("test")
    })
}

impl Asked {
    fn found(&mut self, text: String) {
        self.literals.push((self.file.clone(), text));
    }

    /// `voice, "key", name = value, name`, or without a voice.
    fn tell(&mut self, tokens: TokenStream) {
        let parser = Punctuated::<Expr, Token![,]>::parse_terminated;
        let Ok(parts) = parser.parse2(tokens) else { return };
        let Some(at) = parts.iter().take(2).position(|part| literal(part).is_some()) else {
            return;
        };
        let named = parts.iter().skip(at + 1).map(|part| match part {
            Expr::Assign(pair) => name_of(&pair.left),
            name => name_of(name),
        });
        let values = Some(named.collect());
        if let Some(key) = parts.iter().nth(at).and_then(literal) {
            self.told.push((key, values));
        }
    }
}

impl<'ast> Visit<'ast> for Asked {
    fn visit_attribute(&mut self, _: &'ast syn::Attribute) {}

    fn visit_item_mod(&mut self, module: &'ast syn::ItemMod) {
        if !is_test(&module.attrs) {
            visit::visit_item_mod(self, module);
        }
    }

    fn visit_item_const(&mut self, item: &'ast syn::ItemConst) {
        if !is_test(&item.attrs) {
            visit::visit_item_const(self, item);
        }
    }

    fn visit_macro(&mut self, call: &'ast syn::Macro) {
        let mut all = Vec::new();
        literals(call.tokens.clone(), &mut all);
        for text in all {
            self.found(text);
        }
        let mut told = Vec::new();
        if call.path.is_ident("tell") || call.path.is_ident("text") {
            told.push(call.tokens.clone());
        }
        tells(call.tokens.clone(), &mut told);
        for tokens in told {
            self.tell(tokens);
        }
    }

    fn visit_lit_str(&mut self, text: &'ast LitStr) {
        self.found(text.value());
    }

    fn visit_expr_method_call(&mut self, call: &'ast ExprMethodCall) {
        if call.method == "word"
            && let Some(key) = call.args.first().and_then(literal)
            // A letter in a picture is its own.
            && key.len() > 1
        {
            self.told.push((key, Some(BTreeSet::new())));
        }
        visit::visit_expr_method_call(self, call);
    }
}

fn asked_of(rooms: &[&str]) -> Asked {
    fn all(folder: &Path, asked: &mut Asked) {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                all(&path, asked);
            } else if path.extension().is_some_and(|ending| ending == "rs")
                && !path.ends_with("tests.rs")
            {
                asked.file = path.file_name().unwrap().to_string_lossy().into_owned();
                asked.visit_file(&syn::parse_file(&fs::read_to_string(path).unwrap()).unwrap());
            }
        }
    }
    let mut asked = Asked::default();
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    for room in rooms {
        all(&src.join(room), &mut asked);
    }
    asked
}

/// Rooms that tell what they find by keys.
const ROOMS: [&str; 15] = [
    "timber", "fit", "passes", "hand", "glass", "warmth", "hanging", "movement", "machine", "duty",
    "prove", "job", "report", "survey", "finding",
];

/// Keys that are not written out in the code: names are told by their English.
const NAMES: [&str; 1] = ["name-"];

fn is_name(key: &str) -> bool {
    NAMES.iter().any(|begin| key.starts_with(begin))
}

/// What finding texts begin with; the rule follows.
const BY_RULE: [&str; 2] = ["matter-", "says-"];

/// What may follow the rule.
const MORE: [&str; 2] = ["-none", "-over"];

/// What the texts of findings may ask for, each as it wants.
const FIGURES: [&str; 5] = ["measured", "limit", "least", "usual", "past"];

/// Rules that the sources know, with a hyphen for the point; and the rooms that have some.
fn rules() -> BTreeSet<String> {
    let rooms = [
        "timber", "fit", "rebate", "passes", "hand", "machine", "hanging", "glass", "movement",
        "duty", "warmth", "job", "prove", "sash",
    ];
    let mut rules = BTreeSet::from(["other".to_owned()]);
    for (_, text) in asked_of(&rooms).literals {
        let Some((room, matter)) = text.split_once('.') else { continue };
        let plain = |part: &str| {
            !part.is_empty() && part.chars().all(|c| c.is_ascii_lowercase() || c == '-')
        };
        if plain(room) && plain(matter) {
            rules.extend([room.to_owned(), format!("{room}-{matter}")]);
        }
    }
    rules
}

#[test]
fn the_cautions_of_a_report_are_texts() {
    let (texts, _) = texts(BRITISH);
    assert!(CAUTIONS.iter().all(|caution| texts.contains_key(*caution)), "{CAUTIONS:?}");
}

#[test]
fn every_text_of_a_finding_is_that_of_a_rule() {
    let ((texts, _), rules) = (texts(BRITISH), rules());
    let mut seen = 0;
    for (key, values) in &texts {
        let Some(rule) = BY_RULE.iter().find_map(|begin| key.strip_prefix(begin)) else { continue };
        let bare = MORE.iter().find_map(|more| rule.strip_suffix(more)).unwrap_or(rule);
        assert!(rules.contains(rule) || rules.contains(bare), "no room finds {key}");
        assert!(values.iter().all(|value| FIGURES.contains(&value.as_str())), "{key}: {values:?}");
        seen += 1;
    }
    assert!(seen > 100, "{seen}");
}

#[test]
fn every_text_is_told_somewhere_with_its_values_and_none_is_missing() {
    let ((texts, terms), mut asked) = (texts(BRITISH), asked_of(&["sheets", "page", "language"]));
    let found = asked_of(&ROOMS);
    asked.told.extend(found.told);
    let literals: BTreeSet<&str> = asked.literals.iter().map(|(_, text)| text.as_str()).collect();
    let others: BTreeSet<&str> = found.literals.iter().map(|(_, text)| text.as_str()).collect();
    let unused: Vec<_> = texts
        .keys()
        .filter(|key| !literals.contains(key.as_str()) && !others.contains(key.as_str()))
        .filter(|key| !is_name(key))
        .filter(|key| !BY_RULE.iter().any(|begin| key.starts_with(begin)))
        .collect();
    assert!(unused.is_empty(), "no sheet tells {unused:?}");
    assert!(asked.told.len() > 300, "{}", asked.told.len());
    for (key, values) in &asked.told {
        let Some(wanted) = texts.get(key) else { panic!("there is no text {key}") };
        if let Some(values) = values {
            assert_eq!(values, wanted, "{key}");
        }
    }
    // What looks like a key and is none is a slip of the pen.
    let groups: BTreeSet<&str> = texts.keys().filter_map(|key| key.split('-').next()).collect();
    let like = |text: &&&str| {
        let begins = text.split_once('-').is_some_and(|(group, _)| groups.contains(group));
        begins && text.chars().all(|c| c.is_ascii_lowercase() || c == '-')
    };
    // Groups that are words in other texts too: names of files.
    let files = ["glass-order", "cutting-list", "section-"];
    let lost: Vec<_> = literals
        .iter()
        .filter(like)
        .filter(|key| !texts.contains_key(**key) && !files.contains(key) && !NAMES.contains(key))
        .filter(|key| !BY_RULE.contains(key))
        .collect();
    assert!(lost.is_empty(), "there is no text {lost:?}");
    assert!(terms.iter().all(|term| BRITISH.contains(&format!("{{ -{term} }}"))), "{terms:?}");
    // Each text stands once: what is said twice has one key. A word may be a head here and a name there.
    let britain = Language::british();
    let plain = |key: &&String| texts[*key].is_empty() && !is_name(key);
    let mut said: BTreeMap<String, Vec<&String>> = BTreeMap::new();
    for key in texts.keys().filter(plain) {
        said.entry(britain.tell(key, [])).or_default().push(key);
    }
    let twice: Vec<_> =
        said.iter().filter(|(text, keys)| keys.len() > 1 && text.len() > 30).collect();
    assert!(twice.is_empty(), "{twice:?}");
}

/// Whether a text has a word that a person would read: two letters that stand together, outside of what is filled in.
fn has_words(text: &str) -> bool {
    let mut deep = 0_usize;
    let mut run = 0;
    for letter in text.chars() {
        match letter {
            '{' => deep += 1,
            '}' => deep = deep.saturating_sub(1),
            _ => {}
        }
        run = if deep == 0 && letter.is_alphabetic() { run + 1 } else { 0 };
        if run > 1 {
            return true;
        }
    }
    false
}

#[test]
fn american_words_are_words_that_the_british_file_has() {
    let ((british, terms), (american, own)) = (texts(BRITISH), texts(AMERICAN));
    assert!(own.is_subset(&terms) && own.len() > 5);
    for (key, values) in american {
        assert!(values.is_subset(&british[&key]), "{key}");
    }
    // From memory: what American joiners call these.
    let language = Language::american();
    assert_eq!(language.named("upright bar 1 into top rail"), "upright muntin 1 into top rail");
    assert_eq!(Language::british().named("upright bar 1"), "upright bar 1");
}

/// Literals that are for programs: what the code asks a report by, what files and their parts are called, and the page's
/// own marks.
const FOR_PROGRAMS: &[(&str, &[&str])] = &[
    ("building_checks.rs", &["wind", "EN ISO 10077-1", "EN ISO 10077-2", "whole sash, "]),
    ("compare.rs", HTML),
    ("index.rs", HTML),
    (
        "index.rs",
        &[
            "<html lang=\"{}\">\n",
            "<body>\n",
            "</body>\n</html>\n",
            "elevation",
            "section",
            "putty",
            "verdict ",
            "lazy",
            "/cuts/",
            "pdf",
        ],
    ),
    ("mod.rs", &[".side.", ".left.", "gas", "coat", "spacer", "treatment of the panes"]),
    (
        "mod.rs",
        &["whether the glass is laminated", "coated face", "spacer material", "upright", "cross"],
    ),
    ("mod.rs", &["least wood", "wood left"]),
    ("shaped.rs", &["upright"]),
    ("order.rs", &["upright", "cross"]),
    ("voice.rs", &["mm", " in)", "{} ({} in){mark}", "small"]),
    ("voice.rs", &["mm, {inches} in{after}", "mm ({inches} in){after}"]),
    ("words.rs", &["in)"]),
    ("list.rs", &["mm", "in"]),
    ("machine.rs", &[" mm"]),
    ("options.rs", &["mm"]),
    ("house.rs", &["mm"]),
    ("full.rs", &["  (in)"]),
    ("found.rs", &["matter", "says", "-none", "-over", "safety.", "mm"]),
    ("path.rs", &["cut", "feed above the face", "rapid", "comes down"]),
    ("warm.rs", &["isotherms", "dew line", "coldest place"]),
    ("alike.rs", &["{} and {last}"]),
    ("making.rs", &["{} sight edge", " sight edge", " mm"]),
    (
        "sash.rs",
        &["safety", "timber", "metal", "hanging", "glass", "sash", "fit", "movement", "passes"],
    ),
];

/// What a page is for a browser, besides its looks.
const HTML: &[&str] = &["utf-8", "viewport", "width=device-width, initial-scale=1"];

/// Files that hold for programs and files what they say: layers of drawings, keys of the survey on the form, remarks in
/// the heads of programs, and the record to begin with, which is in the words of its keys.
const PROGRAMS: [&str; 4] = ["layers.rs", "places.rs", "margins.rs", "done.rs"];

#[test]
fn no_sheet_has_a_text_in_its_code() {
    let (texts, _) = texts(BRITISH);
    let names: BTreeSet<String> = texts
        .keys()
        .filter(|key| is_name(key))
        .map(|key| Language::british().tell(key, []))
        .collect();
    let all = asked_of(&["sheets"]).literals;
    let for_programs = |file: &str, text: &str| {
        FOR_PROGRAMS.iter().any(|(name, all)| *name == file && all.contains(&text))
    };
    let found: Vec<_> = all
        .iter()
        // How a page looks is the browser's.
        .filter(|(_, text)| !text.contains("{ font: 1rem"))
        .filter(|(_, text)| has_words(text) && !texts.contains_key(text) && !names.contains(text))
        .filter(|(file, text)| !for_programs(file, text) && !PROGRAMS.contains(&file.as_str()))
        .collect();
    assert!(found.is_empty(), "give these a key: {found:#?}");
    for (file, texts) in FOR_PROGRAMS {
        for text in *texts {
            let stands = all.iter().any(|(name, known)| name == file && known == text);
            assert!(stands, "{file} has no {text:?}");
        }
    }
}

fn words(file: &[u8]) -> Vec<String> {
    let pages = paper::pages(file);
    pages.iter().flat_map(|page| &page.words).map(|word| word.text.clone()).collect()
}

/// The example, its workshop with what few have, made as `printer` asks.
fn example(printer: &str) -> House {
    let text = EXAMPLE
        .replace("{ paper = \"A4\" }", printer)
        .replace("machine = { bed = [1200, 1200] }", "machine = { bed = [1200, 1200], corner_cutter = { diameter = 6, flutes = 2, cutting_length = 40 } }");
    assert_ne!(text, EXAMPLE);
    let open = |name: &str| {
        assert_eq!(name, "words/own.ftl");
        Ok(other_letters().into_bytes())
    };
    let with = With { shows: None, open: &open };
    survey::read_with(text.as_bytes(), "house.toml", &with).unwrap()
}

const PLAIN: &str = "{ paper = \"A3\" }";
const OWN: &str = "{ paper = \"A3\", words_file = \"words/own.ftl\" }";

/// What sources are called, and the words of programs, in every language.
const SOURCES: &str = "NHBC NPR";

/// What a person reads of a file, or nothing.
fn read(name: &str, file: &[u8]) -> Option<String> {
    let ending = Path::new(name).extension().and_then(|ending| ending.to_str())?;
    let text = || String::from_utf8(file.to_vec()).unwrap();
    // What stands between angle brackets, and how it looks, is for the browser.
    let between = |text: String| {
        let text = text.split_once("</style>").map_or(text.clone(), |(_, rest)| rest.to_owned());
        let parts =
            text.split('<').map(|part| part.rsplit_once('>').map_or(part, |(_, told)| told));
        parts.collect::<Vec<_>>().join("\n")
    };
    Some(match ending {
        "pdf" => words(file).join("\n"),
        "txt" | "csv" => text(),
        "svg" | "html" => between(text()),
        _ => return None,
    })
}

#[test]
fn a_file_that_the_survey_names_is_what_every_sheet_speaks() {
    let (own, plain) = (job::make(&example(OWN)).unwrap(), job::make(&example(PLAIN)).unwrap());
    let voice = Voice::of(&example(OWN).workshop.printer);
    let report = &own.report;
    let findings = || {
        let own = report.sashes.iter().flat_map(|sash| &sash.findings);
        let tried = report.sashes.iter().flat_map(|sash| &sash.choice.candidates);
        own.chain(tried.flat_map(|one| &one.findings))
    };
    // What a bound rests on, and units, are the same in every language.
    let sources = findings().map(|one| format!("{} {}", one.basis, one.measured.unit));
    let open = latin(&sources.collect::<Vec<_>>().join(" "));
    let open = &(&open | &latin(SOURCES)) | &latin("glazing sprig");
    let mut lost = BTreeSet::new();
    for finding in findings() {
        let words = format!("{}: {}", voice.say(&finding.place), found::told(finding, voice));
        let left: Vec<_> = latin(&words).difference(&open).cloned().collect();
        lost.extend((!left.is_empty()).then(|| format!("{}: {left:?} in {words}", finding.rule)));
    }
    assert!(lost.is_empty(), "{lost:#?}");
    assert!(findings().count() > 500);
    // The joiner's own names, and those of files.
    let given = latin(
        "Samphire Cottage kitchen parlour scullery landing bedroom upper lower hall fanlight stairs glazing sprig \
         summary txt glass order pdf csv template dxf report json svg ngc machine workshop options for the owner \
         elevation section path setups",
    );
    let files = own.files.keys().map(String::as_str).collect::<Vec<_>>().join(" ");
    let given = &given | &latin(&files);
    let (mut seen, mut lost) = (0, Vec::new());
    for (name, file) in &own.files {
        let Some(text) = read(name, file) else {
            // Sizes, programs and every other number are those of before.
            if Path::new(name).extension().is_some_and(|ending| ending == "ngc") {
                assert_eq!(file, &plain.files[name], "{name}");
            }
            continue;
        };
        let left: Vec<String> = latin(&text)
            .into_iter()
            .filter(|word| !given.contains(word) && !open.contains(word))
            .collect();
        lost.extend((!left.is_empty()).then(|| format!("{name}: {left:?}")));
        assert!(text.contains(|c| ('а'..='я').contains(&c)), "{name}");
        let before = read(name, &plain.files[name]).unwrap();
        assert!(!before.contains(|c| ('а'..='я').contains(&c)), "{name}");
        seen += 1;
    }
    assert!(lost.is_empty(), "{}", lost.join("\n"));
    assert!(seen > 60, "{seen}");
    let form = form::document(Paper::A4, Voice::of(&example(OWN).workshop.printer));
    let form = words(&fillister::drawing::pdf::write(&form).unwrap()).join(" ");
    let all = survey::keys();
    let keys = all.iter().map(|key| format!("{} {}", key.path, key.default.unwrap_or("")));
    let keys = latin(&keys.collect::<Vec<_>>().join(" "));
    let left: Vec<_> = latin(&form).difference(&keys).cloned().collect();
    assert!(left.is_empty(), "form: {left:?}");
}

#[test]
fn names_of_the_joiner_go_through_as_given() {
    let text = EXAMPLE
        .replace("Samphire Cottage", "Grey House")
        .replace("\"kitchen-1\"", "\"rebate\"")
        .replace("\"parlour-1\"", "\"moulding\"")
        .replace("\"glazing sprig\"", "\"grey bar\"");
    let american = text.replace("{ paper = \"A4\" }", "{ paper = \"A4\", words = \"American\" }");
    let made = job::make(&survey::read(&american, "house.toml").unwrap()).unwrap();
    let all: Vec<(&String, String)> =
        made.files.iter().filter_map(|(name, file)| Some((name, read(name, file)?))).collect();
    let said = |word: &str| all.iter().filter(|(_, text)| text.contains(word)).count();
    for name in ["Grey House", "rebate (", "moulding (", "rebate:", "moulding:"] {
        assert!(said(name) > 0, "{name}");
    }
    for name in ["Gray", "gray bar", "rabbet (", "molding (", "rabbet:", "molding:"] {
        assert_eq!(said(name), 0, "{name}");
    }
    assert!(said("rabbet") > 8 && said("molding") > 8);
}

// A clamp by the name of a stile, and a nail by that of a rail.
#[test]
fn a_name_of_the_joiner_that_is_one_of_ours_is_not_told_in_other_words() {
    let text = include_str!("../fixtures/survey/good/on-the-bed.toml")
        .replace("\"toggle clamp\"", "\"left stile\"")
        .replace("{ name = \"board\", ", "{ ")
        .replace("[workshop]", "[workshop]\nprinter = { words_file = \"own.ftl\" }")
        + "metal = [{ name = \"top rail\", at = [-3, 100] }, { at = [403, 100] }]\n\
           horns = { top = 60 }\n";
    let open = |_: &str| Ok(other_letters().into_bytes());
    let with = With { shows: None, open: &open };
    let house = survey::read_with(text.as_bytes(), "house.toml", &with).unwrap();
    let voice = Voice::of(&house.workshop.printer);
    let own = |word: &str| voice.word(word);
    let report = job::check(&house);
    let places = report.sashes[0].findings.iter().map(|finding| voice.say(&finding.place));
    let places: Vec<String> = places.collect();
    let begins = |name: &str| places.iter().filter(|place| place.starts_with(name)).count();
    assert!(begins("left stile") > 0 && begins("top rail") > 0, "{places:#?}");
    // What has no name is told by a word of ours, and so is the stile itself.
    assert!(begins(&own("fixing-metal")) > 0 && begins(&own("fixing-clamp")) > 0, "{places:#?}");
    assert!(begins(&own("name-left-stile")) > 0, "{places:#?}");
}

#[test]
fn the_texts_to_begin_with_are_printed() {
    let told = run(&["start", "--words"]);
    assert_eq!(told.stdout, BRITISH.as_bytes());
    assert_eq!(Language::of_file(&told.stdout).unwrap().tell("order-price", []), "price");
}

#[test]
fn a_mistake_in_such_a_file_is_told_with_its_line() {
    let told = |text: &str| Language::of_file(text.as_bytes()).unwrap_err().to_string();
    let long = format!("order-price = {}", "x".repeat(1 << 21));
    let deep = format!("order-price = {}", "{".repeat(100_000));
    for (text, words) in [
        (
            "order-price = Preis\norder-preis = Preis\n",
            "line 2: order-preis: no sheet has such a text or word",
        ),
        ("order-price = { $much }\n", "line 1: order-price: there is no value $much for it"),
        ("\norder-price\n", "line 2: Expected a token starting with \"=\""),
        ("order-price = a\norder-price = b\n", "order-price: it stands twice"),
        ("-rebate = { $x }\n", "line 1: -rebate: a word of the trade is said in plain words"),
        (
            "order-price = { -falz }\n",
            "line 1: order-price: -falz is no word of the trade in this file",
        ),
        (
            "order-price = { order-price }\n",
            "line 1: order-price: order-price is no word of the trade in this file",
        ),
        ("language-tag = 12 monkeys\n", "line 1: language-tag: write it as in de, cy or en-US"),
        (&long, "the file has more than 1048576 bytes"),
        (&deep, "line 1: brackets stand too deep in one another"),
    ] {
        assert_eq!(told(text), words);
    }
    assert_eq!(
        Language::of_file(b"\xff").unwrap_err().to_string(),
        "this is not a text file in UTF-8"
    );
    let house =
        EXAMPLE.replace("{ paper = \"A4\" }", "{ paper = \"A4\", words_file = \"own.ftl\" }");
    let open = |_: &str| Ok(b"order-preis = 5\n".to_vec());
    let mistakes =
        survey::read_with(house.as_bytes(), "house.toml", &With { shows: None, open: &open })
            .unwrap_err();
    let told = mistakes.to_string();
    assert!(
        told.contains("own.ftl, line 1: order-preis: no sheet has such a text or word"),
        "{told}"
    );
}
