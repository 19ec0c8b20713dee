//! With inches asked for, no sheet and no drawing for people tells a length without them: read back from what was
//! written.

use crate::paper;
use crate::support::runs::for_all;
use crate::support::{houses, machinable};
use fillister::job;
use fillister::sheets::compare;
use fillister::sheets::kit::Voice;
use fillister::sheets::summary::Detail;
use fillister::survey::{self, House, Record};
use proptest::prelude::*;
use std::cell::RefCell;
use std::collections::BTreeMap;

/// What stands before the value of a dimension.
const BEFORE: [&str; 14] = [
    "",
    "beside",
    "centre",
    "center",
    "clearance",
    "cover",
    "left",
    "order",
    "overall",
    "right",
    "rise",
    "sight",
    "springing",
    "web",
];

/// Texts of a picture.
fn of_picture(svg: &str) -> Vec<String> {
    let texts = svg.split("<text").skip(1).filter_map(|rest| {
        let inside = rest.split_once('>')?.1.split("</text").next()?;
        Some(inside.replace("&amp;", "&"))
    });
    texts.collect()
}

/// Lengths in millimetres after which no inches stand, in words as they follow one another.
fn without_inches(words: &str) -> Vec<String> {
    let tokens: Vec<&str> = words.split_whitespace().collect();
    let mut found = Vec::new();
    let place = |pair: &[&str]| {
        let x = pair[0].strip_prefix('(').and_then(|x| x.strip_suffix(','));
        let y = pair[1].trim_end_matches([',', '.', ';']).strip_suffix(')');
        let both = x.zip(y).filter(|(x, y)| x.parse::<f64>().is_ok() && y.parse::<f64>().is_ok());
        both.map(|_| pair.join(" "))
    };
    found.extend(tokens.windows(2).filter_map(place));
    for (at, token) in tokens.iter().enumerate().filter(|(at, _)| *at > 0) {
        let number = tokens[at - 1].trim_start_matches(['(', '-', '+', '±']);
        let said = token.trim_end_matches([',', '.', ';', ':', ')', '?']) == "mm";
        if !said || number.parse::<f64>().is_err() {
            continue;
        }
        // In brackets already: (14 mm, 9/16 in).
        let inside =
            *token == "mm," && tokens[at + 1..].iter().take(6).any(|t| t.starts_with("in)"));
        let followed = tokens.get(at + 1).is_some_and(|next| next.starts_with('('));
        if !(inside || *token == "mm" && followed) {
            found.push(tokens[at.saturating_sub(6)..(at + 4).min(tokens.len())].join(" "));
        }
    }
    found
}

/// Whether a text is a dimension in millimetres alone.
fn is_bare(text: &str) -> bool {
    let (before, value) = text.rsplit_once(' ').unwrap_or(("", text));
    BEFORE.contains(&before) && value.parse::<f64>().is_ok()
}

/// Lengths of a house that are told without inches, each after the name of its file.
fn of_house(files: &BTreeMap<String, Vec<u8>>) -> Vec<String> {
    let mut found = Vec::new();
    for (name, file) in files {
        let (of_file, bare) = if name.ends_with("pdf") {
            let pages = paper::pages(file);
            let texts = pages.iter().map(|page| {
                page.words.iter().map(|word| word.text.as_str()).collect::<Vec<_>>().join(" ")
            });
            let with = pages.iter().flat_map(|page| &page.words).map(|word| word.text.clone());
            let bare = with.filter(|text| text.contains(' ') && is_bare(text));
            (texts.flat_map(|text| without_inches(&text)).collect::<Vec<_>>(), bare.collect())
        } else if name.ends_with("svg") {
            let texts = of_picture(std::str::from_utf8(file).unwrap());
            // Words that run over lines are so many texts.
            let lengths = without_inches(&texts.join(" "));
            // Elsewhere a number alone is the number of a bead, of a place, or of degrees.
            let alone = name.contains("/section-");
            let bare =
                texts.into_iter().filter(|text| is_bare(text) && (alone || text.contains(' ')));
            (lengths, bare.collect::<Vec<_>>())
        } else if name.ends_with("txt") || name.ends_with("html") {
            let text = std::str::from_utf8(file).unwrap();
            let mut parts = text.split('<');
            let first = parts.next().unwrap().to_owned();
            let outside =
                |part: &str| part.split_once('>').map_or(String::new(), |(_, text)| text.into());
            let words = if name.ends_with("html") {
                text.split("</style>").last().unwrap().split('<').map(outside).collect()
            } else {
                vec![first]
            };
            (
                words.iter().flat_map(|words| without_inches(words)).collect(),
                of_table(&words.join("\n")),
            )
        } else if name.ends_with("csv") {
            (of_list(file), Vec::new())
        } else {
            continue;
        };
        found.extend(of_file.into_iter().chain(bare).map(|words| format!("{name}: {words}")));
    }
    found
}

/// Sizes of a table in plain text after which no inches stand.
fn of_table(text: &str) -> Vec<String> {
    let tokens: Vec<&str> = text.split_whitespace().collect();
    let size = |three: &&[&str]| {
        three[1] == "x" && [three[0], three[2]].iter().all(|side| side.parse::<f64>().is_ok())
    };
    let sizes = tokens.windows(3).enumerate().filter(|(_, three)| size(three));
    let bare = sizes.filter(|(at, _)| {
        tokens.get(at + 3).is_none_or(|next| !(next.starts_with('(') || *next == "mm"))
    });
    bare.map(|(_, three)| three.join(" ")).collect()
}

/// Lengths in inches, to a thirty-second and less in thousandths, as a number again.
fn read_back(inches: &str) -> f64 {
    let part = |word: &str| match word.split_once('/') {
        Some((above, below)) => above.parse::<f64>().unwrap() / below.parse::<f64>().unwrap(),
        None => word.parse().unwrap(),
    };
    let sign = if inches.starts_with('-') { -1.0 } else { 1.0 };
    sign * inches.trim_start_matches('-').split(' ').map(part).sum::<f64>()
}

/// Lengths of a list that are told without inches, or with others than they are.
fn of_list(file: &[u8]) -> Vec<String> {
    let mut list = csv::Reader::from_reader(file);
    let heads: Vec<String> = list.headers().unwrap().iter().map(str::to_owned).collect();
    let mut found = Vec::new();
    for line in list.records() {
        let line = line.unwrap();
        for (head, cell) in heads.iter().zip(&line).filter(|(_, cell)| !cell.is_empty()) {
            let words: Vec<&str> = head.split(' ').collect();
            if !words.contains(&"mm") {
                found.extend(without_inches(cell));
                continue;
            }
            let twin = words.iter().map(|word| if *word == "mm" { "in" } else { word });
            let twin = twin.collect::<Vec<_>>().join(" ");
            let inches = heads.iter().position(|head| *head == twin).map(|at| &line[at]);
            let is = |inches: &str| {
                // Several lengths stand one after another; one is enough here.
                let first = cell.parse::<f64>();
                first.map_or(!inches.is_empty(), |mm| (read_back(inches) * 25.4 - mm).abs() < 0.4)
            };
            if !inches.is_some_and(is) {
                found.push(format!("{head} {cell}"));
            }
        }
    }
    found
}

fn asked(mut house: House) -> House {
    house.workshop.printer.inches = true;
    house
}

#[test]
fn no_length_of_the_example_stands_without_its_inches() {
    let text = include_str!("../examples/samphire-cottage.toml");
    let house = survey::read(text, "samphire-cottage.toml").unwrap();
    // Without inches there are such lengths in every kind of file.
    let plain = of_house(&job::make(&house).unwrap().files);
    for kind in [
        "section-",
        "elevation",
        "proof.svg",
        "glass-order.pdf",
        "workshop",
        "machine",
        "template",
        "summary.txt",
        "index.html",
        "glass-order.csv",
        "cutting-list.csv",
    ] {
        assert!(plain.iter().any(|found| found.contains(kind)), "{kind}");
    }
    let found = of_house(&job::make(&asked(house)).unwrap().files);
    assert!(found.is_empty(), "{}\n{}", found.len(), found.join("\n"));
}

#[test]
fn no_length_of_an_answer_stands_without_its_inches() {
    let text = include_str!("../examples/samphire-cottage.toml");
    let house = asked(survey::read(text, "samphire-cottage.toml").unwrap());
    for (detail, heads) in [(Detail::Short, 0), (Detail::Full, 2)] {
        let told = job::check_in_words(&house, &Record::default(), detail, 78);
        let all = told.sashes.join("\n");
        assert!(all.contains(" in)"));
        let found = without_inches(&all);
        assert!(found.is_empty(), "{}", found.join("\n"));
        // Tables have columns of their own.
        let heads_found = ["       in  left       in", "to depth mm (in)"]
            .iter()
            .filter(|head| all.contains(**head));
        assert_eq!(heads_found.count(), heads);
        assert!(all.lines().all(|line| line.chars().count() <= 100));
    }
}

/// What a page says outside of what is typed and of the words on where to measure it.
fn of_page(page: &str) -> String {
    let parts = page.split('<').filter(|part| {
        let is = |tag: &&str| part.starts_with(*tag);
        ![&"small", &"style", &"script", &"output id=\"mm-", &"option", &"code"].into_iter().any(is)
    });
    let told = parts.map(|part| part.split_once('>').map_or("", |(_, text)| text));
    told.collect::<Vec<_>>().join(" | ")
}

#[test]
fn no_length_of_a_comparison_stands_without_its_inches() {
    let text = include_str!("../examples/samphire-cottage.toml");
    let other = text.replace("bed = 2, bead = 10", "bed = 3, bead = 8");
    let [one, other] = [text, &other].map(|text| survey::read(text, "house.toml").unwrap());
    let told = |houses: [&House; 2]| {
        let found = job::compare(houses);
        let voice = Voice::of(&houses[1].workshop.printer);
        let files = ["one.toml", "other.toml"];
        [compare::text(&found, &files, voice), of_page(&compare::sheet(&found, &files, voice))]
    };
    for words in told([&one, &other]) {
        assert!(without_inches(&words).len() > 20, "{words}");
    }
    let other = asked(other);
    for words in told([&one, &other]) {
        let found = without_inches(&words);
        assert!(found.is_empty() && words.contains(" in)"), "{}", found.join("\n"));
    }
}

#[test]
#[cfg(feature = "page")]
fn no_length_of_the_page_stands_without_its_inches() {
    use crate::page::Served;
    use crate::support::bench::Bench;
    use std::fs;
    let text = include_str!("../examples/samphire-cottage.toml");
    let inches = text.replace("{ paper = \"A4\" }", "{ paper = \"A4\", inches = true }");
    assert_ne!(text, inches);
    let bench = Bench::new();
    let ways = ["/", "/sash/1", "/sash/3", "/sash/8", "/sash/1/cut"];
    let told = |text: &str| {
        fs::write(bench.path("house.toml"), text).unwrap();
        let page = Served::of(&bench, "house.toml");
        ways.map(|way| of_page(&page.get(way).text()))
    };
    for (way, words) in ways.iter().zip(told(text)).skip(1) {
        assert!(!without_inches(&words).is_empty(), "{way}");
    }
    for (way, words) in ways.iter().zip(told(&inches)) {
        let found = without_inches(&words);
        assert!(found.is_empty(), "{way}: {}", found.join("\n"));
    }
}

#[test]
fn no_length_of_a_random_house_stands_without_its_inches() {
    let all = RefCell::new(Vec::new());
    let any = prop_oneof![2 => machinable::house(), 1 => houses::house()];
    for_all(6, &any, |house| {
        all.borrow_mut().extend(of_house(&job::make(&asked(house)).unwrap().files));
        Ok(())
    });
    let all = all.into_inner();
    assert!(all.is_empty(), "{}\n{}", all.len(), all.join("\n"));
}
