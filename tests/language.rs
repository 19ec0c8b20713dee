//! A second language is a file: what it says stands on the sheets, and nothing else of the program changes.

use crate::paper;
use crate::support::bench::run;
use fillister::job;
use fillister::language::{BRITISH, Language};
use fillister::survey::{self, With};
use fluent_syntax::ast::{Entry, Expression, InlineExpression, Pattern, PatternElement};
use proc_macro2::{TokenStream, TokenTree};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;
use syn::visit::{self, Visit};
use syn::{Expr, ExprLit, ExprMethodCall, Lit, LitStr};

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
    /// Every literal that may be a key.
    literals: BTreeSet<String>,
    /// Keys that are told right where they stand, with the values that go with them where these stand there too.
    told: Vec<(String, Option<BTreeSet<String>>)>,
}

fn literal(expression: &Expr) -> Option<String> {
    match expression {
        Expr::Lit(ExprLit { lit: Lit::Str(text), .. }) => Some(text.value()),
        _ => None,
    }
}

/// Literals of what a macro is called with.
fn literals(tokens: TokenStream, found: &mut BTreeSet<String>) {
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

impl<'ast> Visit<'ast> for Asked {
    fn visit_macro(&mut self, call: &'ast syn::Macro) {
        literals(call.tokens.clone(), &mut self.literals);
    }

    fn visit_lit_str(&mut self, text: &'ast LitStr) {
        self.literals.insert(text.value());
    }

    fn visit_expr_method_call(&mut self, call: &'ast ExprMethodCall) {
        if call.method == "tell"
            && let Some(key) = call.args.first().and_then(literal)
        {
            let values = call.args.iter().nth(1).and_then(|values| {
                let Expr::Array(values) = values else { return None };
                let named = values.elems.iter().map(|pair| {
                    let Expr::Tuple(pair) = pair else { return None };
                    pair.elems.first().and_then(literal)
                });
                named.collect()
            });
            self.told.push((key, values));
        }
        visit::visit_expr_method_call(self, call);
    }
}

fn asked() -> Asked {
    fn all(folder: &Path, asked: &mut Asked) {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                all(&path, asked);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                asked.visit_file(&syn::parse_file(&fs::read_to_string(path).unwrap()).unwrap());
            }
        }
    }
    let mut asked = Asked::default();
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    all(&src.join("sheets"), &mut asked);
    all(&src.join("language"), &mut asked);
    asked
}

#[test]
fn every_text_is_told_somewhere_with_its_values_and_none_is_missing() {
    let ((texts, terms), asked) = (texts(BRITISH), asked());
    let unused = texts.keys().filter(|key| !asked.literals.contains(*key)).collect::<Vec<_>>();
    assert!(unused.is_empty(), "no sheet tells {unused:?}");
    assert!(asked.told.len() > 20, "{}", asked.told.len());
    for (key, values) in &asked.told {
        let Some(wanted) = texts.get(key) else { panic!("there is no text {key}") };
        if let Some(values) = values {
            assert_eq!(values, wanted, "{key}");
        }
    }
    // What looks like a key and is none is a slip of the pen.
    let groups: BTreeSet<&str> = texts.keys().filter_map(|key| key.split('-').next()).collect();
    let sections = ["answer-", "order-", "unit-", "workshop-"];
    assert!(sections.iter().all(|section| groups.contains(section.trim_end_matches('-'))));
    let like = |text: &&String| {
        sections.iter().any(|section| text.starts_with(section))
            && text.chars().all(|c| c.is_ascii_lowercase() || c == '-')
    };
    let lost: Vec<_> =
        asked.literals.iter().filter(like).filter(|key| !texts.contains_key(*key)).collect();
    assert!(lost.is_empty(), "there is no text {lost:?}");
    assert!(terms.iter().all(|term| !texts.contains_key(term)));
}

#[test]
fn american_words_are_words_that_the_british_file_has() {
    let ((british, terms), (american, own)) = (texts(BRITISH), texts(AMERICAN));
    assert!(own.is_subset(&terms) && own.len() > 5);
    for (key, values) in american {
        assert!(values.is_subset(&british[&key]), "{key}");
    }
    // From memory: what American joiners call these.
    let said = Language::american()
        .exchanged("Rebates of glazing bars, grey mouldings, multicoloured, grey-1 in Greyfriars");
    assert_eq!(said, "Rabbets of muntins, gray moldings, multicoloured, grey-1 in Greyfriars");
    assert_eq!(Language::british().exchanged("Rebates of glazing bars"), "Rebates of glazing bars");
}

/// An invented language: every word that a text has stands in angle quotes; values and terms as they are.
fn invented() -> String {
    let mut file = vec!["language-tag = cy".to_owned()];
    let mut in_select = false;
    for line in BRITISH.lines() {
        if line.starts_with("language-tag") || line.starts_with('#') {
            continue;
        }
        let (head, text) = match line.split_once('=') {
            Some((head, text)) if !line.starts_with(' ') => (format!("{head}= "), text.trim()),
            _ if in_select && line.trim_start().starts_with(['[', '*']) => {
                let (head, text) = line.split_once(']').unwrap();
                (format!("{head}] "), text.trim())
            }
            _ => (String::new(), ""),
        };
        in_select = in_select && line != "}" || line.ends_with("->");
        if head.is_empty() || line.ends_with("->") {
            let (before, after) = if head.is_empty() { ("", line) } else { (&*head, text) };
            let after = after.replace("ORDER SIZE", "«ORDER» «SIZE»");
            file.push(format!("{before}{after}"));
            continue;
        }
        let mut words = Vec::new();
        let mut deep = 0;
        for word in text.split(' ') {
            let plain = deep == 0 && !word.contains('{');
            deep += word.matches('{').count();
            deep -= word.matches('}').count();
            words.push(if plain && word != "mm" && word.contains(char::is_alphabetic) {
                format!("«{word}»")
            } else {
                word.to_owned()
            });
        }
        file.push(format!("{head}{}", words.join(" ")));
    }
    file.join("\n") + "\n"
}

fn words(file: &[u8]) -> Vec<String> {
    let pages = paper::pages(file);
    pages.iter().flat_map(|page| &page.words).map(|word| word.text.clone()).collect()
}

#[test]
fn a_file_that_the_survey_names_is_what_the_sheets_speak() {
    let text =
        EXAMPLE.replace("{ paper = \"A4\" }", "{ paper = \"A4\", words_file = \"words/own.ftl\" }");
    assert_ne!(text, EXAMPLE);
    let open = |name: &str| {
        assert_eq!(name, "words/own.ftl");
        Ok(invented().into_bytes())
    };
    let with = With { shows: None, open: &open };
    let house = survey::read_with(text.as_bytes(), "house.toml", &with).unwrap();
    let files = job::make(&house).unwrap().files;
    let order = words(&files["glass-order.pdf"]);
    let all = order.join(" ");
    for told in [
        "«Glass» «order»",
        "«ORDER» «SIZE»",
        "«label» «each»",
        "[ ] «black»",
        "[ ] «white»",
        "«page»",
    ] {
        assert!(all.contains(told), "{told}");
    }
    // Nothing of the British order is left but the unit's own words, which every room tells.
    let (texts, _) = texts(BRITISH);
    let british = |key: &str| Language::british().tell(key, []);
    let left: Vec<String> = texts
        .iter()
        .filter(|(key, values)| {
            values.is_empty() && (key.starts_with("order-") || key.starts_with("unit-"))
        })
        .map(|(key, _)| british(key))
        .filter(|text| text.len() > 5 && order.contains(text))
        .collect();
    assert!(left.is_empty(), "{left:?}");
    let sheet = words(&files["kitchen-1/workshop.pdf"]).join(" ");
    for told in ["«Passes»", "«depth» «stop,»", "«yes,»", "«Cautions»", "«Setting» «and»"]
    {
        assert!(sheet.contains(told), "{told}");
    }
    let plain = job::make(&survey::read(EXAMPLE, "house.toml").unwrap()).unwrap().files;
    let says = |name: &str| words(&plain[name]).join(" ").contains('«');
    assert!(!says("glass-order.pdf") && !says("kitchen-1/workshop.pdf"));
    // Sizes, programs and every other number are those of before.
    for (name, file) in &plain {
        let ending = Path::new(name).extension().and_then(|ending| ending.to_str()).unwrap();
        if ["ngc", "dxf"].contains(&ending) {
            assert_eq!(file, &files[name], "{name}");
        }
    }
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
    let long = format!("order-price = {}", "x".repeat(1 << 19));
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
        (&long, "the file has more than 262144 bytes"),
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
