//! The page from elsewhere: a telephone on the network, by its key and square code, and a browser that is started.

#![cfg(target_os = "linux")]

use crate::page::{Served, line};
use crate::support::bench::Bench;
use std::fs;
use std::net::TcpStream;
use std::process::Command;
use std::time::{Duration, Instant};

/// The text of a square code, dark where `dark` says so, read by a library that had no part in drawing it.
fn decoded(size: usize, dark: impl Fn(usize, usize) -> bool) -> String {
    const SQUARE: usize = 4;
    let side = size * SQUARE;
    let grey = |x: usize, y: usize| if dark(x / SQUARE, y / SQUARE) { 0 } else { 255 };
    let mut picture = rqrr::PreparedImage::prepare_from_greyscale(side, side, grey);
    let codes = picture.detect_grids();
    assert_eq!(codes.len(), 1, "no square code");
    codes[0].decode().unwrap().1
}

// Linux answers on every address that begins with 127 without asking: one of them stands for that on the network.
#[test]
fn a_telephone_is_let_in_by_the_key_of_the_sitting_alone() {
    let bench = Bench::new();
    let page = Served::with(&bench, "house.toml", &["--share=127.0.0.2"], |_| {});
    let address = page.said.split("network at ").nth(1).unwrap().lines().next().unwrap();
    let (host, key) = address.strip_prefix("http://").unwrap().split_once("/?key=").unwrap();
    assert_eq!(host, page.host.replace("127.0.0.1", "127.0.0.2"));
    assert_eq!(key.len(), 32, "{key}");
    // Printed as letters, a light square for each light half of a block; on the page as a picture.
    let letters: Vec<Vec<char>> = page.said.lines().map(|line| line.chars().collect()).collect();
    let letters: Vec<_> =
        letters.into_iter().filter(|line| line.iter().any(|c| "█▀▄".contains(*c))).collect();
    let printed =
        decoded(letters[0].len(), |x, y| match letters.get(y / 2).map_or(' ', |line| line[x]) {
            '█' => false,
            '▀' => y % 2 == 1,
            '▄' => y % 2 == 0,
            _ => y / 2 < letters.len(),
        });
    assert_eq!(printed, address);
    let house = page.get("/").text();
    let code = house.split("viewBox=\"0 0 ").nth(1).unwrap();
    let size = code.split(' ').next().unwrap().parse().unwrap();
    let shown = decoded(size, |x, y| code.contains(&format!("M{x} {y}h1")));
    assert_eq!(shown, address);

    let phone = Served {
        child: Command::new("true").spawn().unwrap(),
        host: host.to_owned(),
        said: String::new(),
    };
    let ask = |path: &str, more: &str| {
        phone.send(
            format!("GET {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n{more}\r\n")
                .as_bytes(),
        )
    };
    let mut wrong = key.to_owned();
    wrong.replace_range(31.., if key.ends_with('0') { "1" } else { "0" });
    for path in [
        "/".to_owned(),
        "/page.css".to_owned(),
        format!("/?key={wrong}"),
        format!("/?key={}", &key[..31]),
        "/?key=".to_owned(),
    ] {
        let answer = ask(&path, &format!("Cookie: fillister={wrong}\r\n"));
        assert_eq!(answer.status, 403, "{path}");
        assert!(answer.text().contains("wants the key of this sitting"), "{}", answer.text());
        assert!(
            !answer.head.contains("set-cookie") && !answer.text().contains("larder-1"),
            "{path}"
        );
    }
    let first = ask(&format!("/?key={key}"), "");
    assert_eq!(first.status, 200);
    let cookie = first.head.lines().find_map(|line| line.strip_prefix("set-cookie: ")).unwrap();
    assert!(cookie.contains("HttpOnly") && cookie.contains("SameSite=Strict"), "{cookie}");
    let kept = format!("Cookie: other=1; {}\r\n", cookie.split(';').next().unwrap());
    assert_eq!(ask("/sash/1", &kept).status, 200);
    let set = |origin: &str, cookie: &str| {
        phone.post("/set", &format!("Origin: {origin}\r\n{cookie}"), "version=1&house=Mine").status
    };
    assert_eq!(set(&format!("http://{host}"), ""), 403);
    assert_eq!(set(&format!("http://{}", page.host), &kept), 403);
    assert_eq!(set("http://elsewhere.example", &kept), 403);
    assert_eq!(set(&format!("http://{host}"), &kept), 303);
    // Each side answers under its own address alone.
    let plain =
        |host: &str| format!("GET / HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n{kept}\r\n");
    assert_eq!(phone.send(plain(&page.host).as_bytes()).status, 403);
    assert_eq!(page.send(plain(host).as_bytes()).status, 403);
    assert!(page.get("/").text().contains("Mine"));
    // Another sitting has another key, and without the word nothing answers there.
    let other = Served::with(&bench, "house.toml", &["--share=127.0.0.2"], |_| {});
    assert!(!other.said.contains(key));
    let alone = Served::of(&bench, "house.toml");
    assert!(TcpStream::connect(alone.host.replace("127.0.0.1", "127.0.0.2")).is_err());
}

#[test]
fn a_browser_is_started_if_asked_and_none_is_only_said() {
    use std::os::unix::fs::PermissionsExt;
    let bench = Bench::new();
    let (own, told) = (bench.path("xdg-open"), bench.path("told"));
    fs::write(&own, format!("#!/bin/sh\necho \"$1\" > {}\n", told.display())).unwrap();
    fs::set_permissions(&own, fs::Permissions::from_mode(0o755)).unwrap();
    let page = Served::with(&bench, "house.toml", &["--open"], |command| {
        command.env("PATH", format!("{}:/usr/bin:/bin", bench.room.path().display()));
    });
    let begun = Instant::now();
    while fs::read_to_string(&told).unwrap_or_default().is_empty() {
        assert!(begun.elapsed() < Duration::from_secs(20), "no browser was started");
        std::thread::sleep(Duration::from_millis(20));
    }
    assert_eq!(fs::read_to_string(&told).unwrap().trim(), format!("http://{}/", page.host));
    let mut page = Served::with(&bench, "house.toml", &["--open"], |command| {
        command.env("PATH", bench.path("nothing"));
    });
    let said = line(page.child.stdout.as_mut().unwrap());
    assert!(said.starts_with("no browser can be started"), "{said}");
    assert_eq!(page.get("/").status, 200);
}
