//! The page as a browser asks for it: what is typed, what comes back, what is taken away, and who is let in.

use crate::support::bench::{Bench, SMALL, all_files, ends_with, fillister, run};
use std::collections::BTreeMap;
use std::fs;
use std::io::{Cursor, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// A page that is being served.
pub(crate) struct Served {
    pub(crate) child: Child,
    pub(crate) host: String,
    /// What was printed when it opened.
    pub(crate) said: String,
}

/// An answer: its status, its head and its body.
pub(crate) struct Answer {
    pub(crate) status: u16,
    pub(crate) head: String,
    body: Vec<u8>,
}

impl Answer {
    pub(crate) fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }

    /// What stands in the element with that id, without marks.
    fn part(&self, id: &str) -> String {
        let text = self.text();
        let from = text.find(&format!("id=\"{id}\"")).unwrap_or_else(|| panic!("no {id}: {text}"));
        let inside = text[from..].split_once('>').unwrap().1;
        inside.split("</").next().unwrap().to_owned()
    }
}

impl Served {
    pub(crate) fn of(bench: &Bench, survey: &str) -> Served {
        Served::with(bench, survey, &[], |_| {})
    }

    /// With further words, and whatever else is to be set before it starts.
    pub(crate) fn with(
        bench: &Bench,
        survey: &str,
        words: &[&str],
        set: impl Fn(&mut Command),
    ) -> Served {
        let mut command = fillister();
        command.args(["page", &bench.text(survey), "--port", "0"]).args(words);
        set(command.stdout(Stdio::piped()));
        let mut child = command.spawn().unwrap();
        let out = child.stdout.as_mut().unwrap();
        let mut said = line(out);
        let host = said.split("http://").nth(1).and_then(|rest| rest.split('/').next());
        let host = host.unwrap_or_else(|| panic!("{said}")).to_owned();
        let last = words.iter().any(|word| word.starts_with("--share"));
        while last && !said.ends_with("change the survey.\n") {
            let next = line(out);
            assert!(!next.is_empty(), "{said}");
            said += &next;
        }
        Served { child, host, said }
    }

    pub(crate) fn send(&self, request: &[u8]) -> Answer {
        let mut stream = TcpStream::connect(&self.host).unwrap();
        stream.set_read_timeout(Some(Duration::from_secs(60))).unwrap();
        // Who refuses a long request may hang up before it is whole.
        let _ = stream.write_all(request);
        let mut answer = Vec::new();
        let _ = stream.read_to_end(&mut answer);
        let end = answer.windows(4).position(|four| four == b"\r\n\r\n").unwrap_or(answer.len());
        let head = String::from_utf8_lossy(&answer[..end]).into_owned();
        let status = head.split(' ').nth(1).and_then(|status| status.parse().ok()).unwrap_or(0);
        Answer { status, head, body: answer.get(end + 4..).unwrap_or_default().to_vec() }
    }

    pub(crate) fn get(&self, path: &str) -> Answer {
        let host = &self.host;
        self.send(
            format!("GET {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n").as_bytes(),
        )
    }

    pub(crate) fn post(&self, path: &str, headers: &str, body: &str) -> Answer {
        let (host, length) = (&self.host, body.len());
        let head = format!(
            "POST {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\nContent-Length: {length}\r\n\
             Content-Type: application/x-www-form-urlencoded\r\n{headers}\r\n"
        );
        self.send(&[head.as_bytes(), body.as_bytes()].concat())
    }

    /// Types into fields of a sash as the script of the page does.
    fn types(&self, sash: usize, version: u64, fields: &[(&str, &str)]) -> Answer {
        self.types_on(&format!("/sash/{sash}"), version, fields)
    }

    fn types_on(&self, path: &str, version: u64, fields: &[(&str, &str)]) -> Answer {
        let host = &self.host;
        let fields = fields.iter().map(|(key, typed)| format!("&{}={}", coded(key), coded(typed)));
        let body = format!("version={version}{}", fields.collect::<String>());
        self.post("/set", &format!("Origin: http://{host}\r\nX-Page: {path}\r\n"), &body)
    }

    /// What is said of a program that is handed in.
    pub(crate) fn press_cut(&self, program: &str) -> String {
        self.press("/sash/1/cut", &format!("program={}&instead=", coded(program))).text()
    }

    fn press(&self, path: &str, body: &str) -> Answer {
        self.post(path, &format!("Origin: http://{}\r\n", self.host), body)
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// The next line, and not a byte more.
pub(crate) fn line(from: &mut impl Read) -> String {
    let (mut line, mut byte) = (Vec::new(), [0]);
    while byte != *b"\n" && from.read_exact(&mut byte).is_ok() {
        line.extend(byte);
    }
    String::from_utf8(line).unwrap()
}

/// As a form sends it.
fn coded(text: &str) -> String {
    let hex = |digit: u8| char::from_digit(u32::from(digit), 16).unwrap();
    text.bytes().flat_map(|byte| ['%', hex(byte >> 4), hex(byte & 15)]).collect()
}

/// Holds a packed folder against what `make` wrote; its files.
pub(crate) fn same_as_made(folder: &Path, packed: Vec<u8>) -> BTreeMap<String, Vec<u8>> {
    let mut made = all_files(folder);
    made.retain(|name, _| {
        let last = name.rsplit('/').next().unwrap();
        last != "written-by-fillister.txt" && !last.starts_with('.')
    });
    let mut zip = zip::ZipArchive::new(Cursor::new(packed)).unwrap();
    let mut taken = BTreeMap::new();
    for index in 0..zip.len() {
        let mut file = zip.by_index(index).unwrap();
        let mut content = Vec::new();
        file.read_to_end(&mut content).unwrap();
        let name = file.name().unwrap().strip_prefix("heron-row/").unwrap().to_owned();
        taken.insert(name, content);
    }
    assert_eq!(made.keys().collect::<Vec<_>>(), taken.keys().collect::<Vec<_>>());
    assert!(made.keys().any(|name| name.contains("/cuts/")), "no program was made");
    for (name, content) in &made {
        assert!(taken[name] == *content, "{name} is not what make writes");
    }
    made
}

/// The measures of a plain casement, in the order of the fields: eight, the shape of the moulding being chosen already.
const MEASURES: [(&str, &str); 10] = [
    ("thickness", "57"),
    ("sight.width", "54 cm"),
    ("sight.height", "900"),
    ("rebate.width", "9"),
    ("rebate.depth", "17"),
    ("moulding.width", "8"),
    ("moulding.depth", "10"),
    ("stiles.width", "2 1/4 in"),
    ("rails.top", "2 1/4 in"),
    ("rails.bottom", "2 1/4 in"),
];

#[test]
fn a_newcomer_types_eight_measures_and_takes_away_what_make_writes() {
    let bench = Bench::new();
    fs::remove_file(bench.path("house.toml")).unwrap();
    let page = Served::of(&bench, "house.toml");
    assert!(page.get("/").text().contains("sash-1"));
    let mut last = page.types(1, 1, &[("house", "Heron Row")]);
    for (version, (key, typed)) in (2..).zip(MEASURES) {
        assert!(last.part("answer").contains("not answered yet"), "{}", last.part("answer"));
        last = page.types(1, version, &[(&format!("sash[1].{key}"), typed)]);
        assert_eq!(last.status, 200, "{}", last.text());
    }
    // The daylight as typed, in millimetres.
    assert_eq!(last.part("there-answer"), "540 x 900 mm, 57 mm thick, no bars");
    assert!(last.part("answer").starts_with("YES"), "{}", last.part("answer"));
    assert!(last.text().contains("<svg") && last.text().contains("Seen from the glazing face"));
    // Nothing is in the file before it is saved.
    assert!(!bench.path("house.toml").exists());
    assert_eq!(page.press("/save", "").status, 303);
    assert!(bench.path("house.toml").exists());

    ends_with(&bench.make("out"), 0);
    let packed = page.get("/away.zip");
    assert!(packed.head.contains("application/zip"), "{}", packed.head);
    let made = same_as_made(&bench.path("out"), packed.body);
    for (name, content) in &made {
        assert!(page.get(&format!("/away/{name}")).body == *content, "{name}");
    }
    let away = page.get("/away").text();
    assert!(away.contains("sash-1/workshop.pdf"));
    // Every file has a word on what it is for.
    assert!(!away.contains(" </li>"), "{away}");
}

#[test]
fn a_mistake_stands_at_its_field_and_the_last_answer_stays() {
    let bench = Bench::new();
    let page = Served::of(&bench, "house.toml");
    let before = page.get("/sash/1").part("answer");
    let wrong = page.types(1, 1, &[("sash[1].sight.width", "12 furlongs")]);
    let told = wrong.part("wrong-sash[1].sight.width");
    assert!(told.contains("furlongs"), "{told}");
    assert_eq!(wrong.part("answer"), before);
    assert!(wrong.text().contains("those of the last survey that could be read"));
    assert!(page.get("/").text().contains("one measure is missing or wrong"));
    assert_eq!(page.get("/away").status, 409);
    // What was typed is there after a restart, marks and all.
    drop(page);
    let page = Served::of(&bench, "house.toml");
    assert!(page.get("/sash/1").text().contains("value=\"12 furlongs\""));
    let script = page.types(1, 1, &[("house", "<script>alert(1)</script>")]);
    assert!(!script.text().contains("<script>alert"));
    let mended = page.types(1, 9, &[("sash[1].sight.width", "120")]);
    assert_eq!(mended.part("wrong-sash[1].sight.width"), "");
    assert_eq!(fs::read_to_string(bench.path("house.toml")).unwrap(), SMALL);
}

#[test]
fn what_is_typed_otherwise_is_told_in_millimetres_and_other_spellings_stay() {
    let bench = Bench::new();
    let spelled = SMALL.replace("rebate ", "rabbet ");
    assert_ne!(spelled, SMALL);
    fs::write(bench.path("house.toml"), &spelled).unwrap();
    let page = Served::of(&bench, "house.toml");
    // 1 in = 25.4 mm (international yard and pound agreement, 1959): 4 13/16 in = 122.2375 mm.
    let cases = [
        ("sight.width", "4 13/16 in", "= 122.24 mm"),
        ("sight.width", "12,5 cm", "= 125.00 mm"),
        ("sight.width", "124,5", "= 124.50 mm"),
        ("sight.width", "120", ""),
        ("rebate.depth", "18", ""),
    ];
    for (version, (key, typed, told)) in (1..).zip(cases) {
        let key = format!("sash[1].{key}");
        let answer = page.types(1, version, &[(&key, typed)]);
        assert_eq!(answer.part(&format!("mm-{key}")), told, "{typed}");
    }
    assert_eq!(page.press("/save", "").status, 303);
    assert_eq!(
        fs::read_to_string(bench.path("house.toml")).unwrap(),
        spelled.replace("depth = 17", "depth = 18")
    );
    // The workshop has a page of its own, and its mistakes stand there.
    let wrong = page.types_on("/workshop", 9, &[("workshop.cutter.diameter", "wide")]);
    assert!(!wrong.part("wrong-workshop.cutter.diameter").is_empty());
    let thin = page.types_on("/workshop", 10, &[("workshop.cutter.diameter", "1/4 in")]);
    assert_eq!(thin.part("wrong-workshop.cutter.diameter"), "");
    assert_eq!(thin.part("mm-workshop.cutter.diameter"), "= 6.35 mm");
    // 6.35 mm wide: the stroke of every move.
    assert!(page.get("/sash/1/cut").text().contains("stroke-width=\"6.35\""));
}

#[test]
fn measures_lie_on_the_picture_and_warmth_is_drawn_where_it_is_asked_for() {
    let bench = Bench::new();
    let page = Served::of(&bench, "house.toml");
    let text = page.get("/sash/1").text();
    // From the survey of the bench: a rule from sight edge to sight edge, with its figure.
    for (key, figure) in [
        ("sight.width", "120"),
        ("sight.height", "150"),
        ("stiles.width", "57"),
        ("stiles.right", "57"),
        ("overall.width", "234"),
        ("thickness", "57"),
        ("rebate.depth", "17"),
    ] {
        let rule = text.split(&format!("<g class=\"rule\" data-key=\"sash[1].{key}\"")).nth(1);
        let rule =
            rule.unwrap_or_else(|| panic!("no rule for {key}")).split("</g>").next().unwrap();
        assert!(rule.contains(&format!(">{figure}</text>")), "{key}: {rule}");
        let ends = rule.split("data-ends=\"").nth(1).unwrap().split('"').next().unwrap();
        let ends: Vec<f64> = ends.split(' ').map(|end| end.parse().unwrap()).collect();
        let length = (ends[2] - ends[0]).hypot(ends[3] - ends[1]);
        assert!((length - figure.parse::<f64>().unwrap()).abs() < 1e-3, "{key}: {ends:?}");
    }
    assert!(text.contains("/sash/1/warmth.svg?version=1"));
    let warm = page.get("/sash/1/warmth.svg?version=1");
    assert!(warm.status == 200 && warm.text().contains("<svg"), "{}", warm.status);
    assert_eq!(page.get("/sash/9/warmth.svg").status, 404);
}

#[test]
fn two_windows_do_not_undo_each_other() {
    let bench = Bench::new();
    let page = Served::of(&bench, "house.toml");
    assert_eq!(page.types(1, 1, &[("sash[1].sight.width", "150")]).status, 200);
    // The other window still shows version 1: another field of it is taken, the same one is not.
    assert_eq!(page.types(1, 1, &[("sash[1].sight.height", "180")]).status, 200);
    let late = page.types(1, 1, &[("sash[1].sight.width", "160")]);
    assert_eq!(late.status, 409);
    assert!(late.text().contains("was changed in another window"), "{}", late.text());
    assert!(page.get("/sash/1").part("there-answer").starts_with("150 x 180 mm"));
    // A bar comes and goes, and a sash like the last one.
    assert_eq!(page.press("/add", "list=sash%5B1%5D.bars").status, 303);
    assert!(page.get("/sash/1").text().contains("sash[1].bars[1].centre"));
    assert_eq!(page.press("/take-out", "part=sash%5B1%5D.bars%5B1%5D").status, 303);
    assert_eq!(page.press("/add", "list=sash").status, 303);
    let second = page.get("/sash/2");
    assert!(second.part("there-answer").starts_with("150 x 180 mm"), "{}", second.text());
    assert_eq!(page.press("/take-out", "part=sash%5B2%5D").status, 303);
    assert_eq!(page.get("/sash/2").status, 404);
}

#[test]
fn nobody_else_is_let_in_and_nothing_outside_is_reached() {
    let bench = Bench::new();
    let page = Served::of(&bench, "house.toml");
    let host = page.host.clone();
    let plain = |host: &str, more: &str| {
        format!("GET / HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n{more}\r\n")
    };
    assert_eq!(page.send(plain(&host, "").as_bytes()).status, 200);
    let port = host.rsplit(':').next().unwrap();
    assert_eq!(page.send(plain(&format!("localhost:{port}"), "").as_bytes()).status, 200);
    for foreign in ["elsewhere.example", "127.0.0.1", "127.0.0.1:1", ""] {
        assert_eq!(page.send(plain(foreign, "").as_bytes()).status, 403, "{foreign}");
    }
    assert_eq!(
        page.send(plain(&host, "Origin: http://elsewhere.example\r\n").as_bytes()).status,
        403
    );
    assert!(matches!(page.send(b"GET / HTTP/1.1\r\nConnection: close\r\n\r\n").status, 400 | 403));
    let change = "version=1&house=Mine";
    for origin in [
        "",
        "Origin: null\r\n",
        "Origin: http://elsewhere.example\r\n",
        "Origin: https://127.0.0.1\r\n",
    ] {
        assert_eq!(page.post("/set", origin, change).status, 403, "{origin}");
    }
    assert!(!page.get("/").text().contains("Mine"));
    for trick in [
        "/away/../house.toml",
        "/away/%2e%2e/house.toml",
        "/away/%2fetc%2fpasswd",
        "/away//etc/passwd",
        "/../../etc/passwd",
        "/sash/0",
        "/sash/99",
        "/sash/-1",
        "/sash/x",
        "/sash/99999999999999999999999999",
        "/nothing",
    ] {
        let answer = page.get(trick);
        assert!(matches!(answer.status, 400 | 404), "{trick}: {}", answer.status);
        assert!(!answer.text().contains("root:") && !answer.text().contains("[[sash]]"), "{trick}");
    }
    let origin = format!("Origin: http://{host}\r\n");
    let long = format!("house={}", "x".repeat(1 << 20));
    assert_eq!(page.post("/set", &origin, &long).status, 413);
    for malformed in [
        "version=1&sash%5B0%5D.x=1",
        "version=1&=1",
        "version=1&..=1",
        "version=1&sash%5B1%5D=1",
        "%ff=%fe",
    ] {
        assert!((400..500).contains(&page.post("/set", &origin, malformed).status), "{malformed}");
    }
    for list in ["list=", "list=house", "list=..%2f", "list=sash%5B7%5D.bars"] {
        assert_eq!(page.press("/add", list).status, 400, "{list}");
    }
    assert_eq!(page.press("/take-out", "part=sash").status, 400);
    assert_eq!(
        page.send(
            format!("PUT / HTTP/1.1\r\nHost: {host}\r\n{origin}Connection: close\r\n\r\n")
                .as_bytes()
        )
        .status,
        405
    );
    let answer = page.get("/sash/1");
    for said in ["content-security-policy: default-src 'none'", "nosniff", "no-store"] {
        assert!(answer.head.contains(said), "{}", answer.head);
    }
    let text = answer.text();
    assert!(
        !text.contains(" style=") && !text.contains("<style") && !text.contains(" onclick"),
        "inline"
    );
    assert!(
        !text.replace("http://www.w3.org/2000/svg", "").contains("http"),
        "something is fetched"
    );
    assert_eq!(bench.names(), ["house.toml"]);
}

#[test]
fn slow_clients_keep_nobody_waiting_and_it_ends_cleanly() {
    let bench = Bench::new();
    let mut page = Served::of(&bench, "house.toml");
    let slow: Vec<TcpStream> = (0..500)
        .map(|_| {
            let mut stream = TcpStream::connect(&page.host).unwrap();
            stream.write_all(b"GET / HTTP/1.1\r\nHost: ").unwrap();
            stream
        })
        .collect();
    let begun = Instant::now();
    assert_eq!(page.get("/").status, 200);
    assert!(begun.elapsed() < Duration::from_secs(20), "{:?}", begun.elapsed());
    #[cfg(unix)]
    {
        let pid = page.child.id().to_string();
        assert!(Command::new("kill").args(["-INT", &pid]).status().unwrap().success());
        assert_eq!(page.child.wait().unwrap().code(), Some(0));
    }
    drop(slow);
    assert_eq!(bench.names(), ["house.toml"]);
}

#[test]
fn what_cannot_be_opened_is_said() {
    let bench = Bench::new();
    fs::write(bench.path("broken.toml"), "house = \"x\n").unwrap();
    let output = run(&["page", &bench.text("broken.toml"), "--port", "0"]);
    ends_with(&output, 2);
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(said.contains("broken.toml:1:"), "{said}");
    let first = Served::of(&bench, "house.toml");
    let port = first.host.rsplit(':').next().unwrap().to_owned();
    let output = run(&["page", &bench.text("house.toml"), "--port", &port]);
    ends_with(&output, 2);
    assert!(String::from_utf8_lossy(&output.stderr).contains("--port 0"));
}

#[test]
fn a_program_that_is_handed_in_is_proven_and_its_faults_have_places() {
    let bench = Bench::new();
    let page = Served::of(&bench, "house.toml");
    let made = page.get("/away").text();
    let from = made.find("larder-1/cuts/").unwrap();
    let names: Vec<&str> =
        made[from..].split("larder-1/cuts/").filter_map(|rest| rest.split('"').next()).collect();
    let name = names.iter().find(|name| name.contains("widen")).unwrap();
    let good = page.get(&format!("/away/larder-1/cuts/{name}")).text();
    let seen = page.get("/sash/1/cut").text();
    assert!(
        seen.contains("id=\"time\"")
            && seen.contains("<svg")
            && seen.contains("data-left=\"1.0000,")
    );
    // Alone it leaves wood that later ones take; but no move of it is a fault.
    let origin = format!("Origin: http://{}\r\n", page.host);
    let hand_in =
        |text: &str| page.post("/sash/1/cut", &origin, &format!("program={}", coded(text)));
    let alone = hand_in(&good).text();
    assert!(
        alone.contains("this program:") && !alone.contains("takes wood that must stay"),
        "{alone}"
    );
    // One deep move beyond the wall gouges, and its line is shown.
    let line = good.lines().count();
    let gouging = good.replacen("M5\n", "G1 X-40 Y-40 F300\nG1 Z-20\nM5\n", 1);
    assert!(gouging.lines().count() > line);
    let found = hand_in(&gouging);
    assert_eq!(found.status, 200);
    assert!(
        found.text().contains("Not proven")
            && found.text().contains("<mark><code>G1 Z-20</code></mark>")
            && found.text().contains("<g class=\"place\""),
        "{}",
        found.text()
    );
    // In the place of the program that it came from, it is run with all others.
    let spoiled = good.replacen("M5\n", "G1 Z-40 F300\nM5\n", 1);
    let body = format!("program={}&instead={}", coded(&spoiled), coded(name));
    let among = page.post("/sash/1/cut", &origin, &body).text();
    assert!(
        among.contains(&format!("Run in place of {name}")) && among.contains("score"),
        "{among}"
    );
    // Whatever is handed in is judged, and nothing of it acts.
    for text in ["", "G1 X", "<script>alert(1)</script>", "%\u{7f}\u{200b}\r\n\t"] {
        let answer = hand_in(text);
        assert_eq!(answer.status, 200, "{text:?}");
        assert!(
            answer.text().contains("ot proven") && !answer.text().contains("<script>alert"),
            "{text:?}"
        );
    }
}
