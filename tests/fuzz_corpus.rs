//! Inputs that coverage-guided fuzzing found worth keeping: both readers get through them.

use fillister::prove::{Program, Setup, prove};
use fillister::rebate::Rebate;
use fillister::{job, survey};
use std::fs;
use std::path::Path;

fn corpus(name: &str) -> Vec<Vec<u8>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/fuzz").join(name);
    let files = fs::read_dir(folder).unwrap().map(|entry| fs::read(entry.unwrap().path()).unwrap());
    let files: Vec<Vec<u8>> = files.collect();
    assert!(files.len() >= 50, "the corpus {name} is nearly empty");
    files
}

#[test]
fn surveys_give_a_house_or_their_mistakes() {
    for bytes in corpus("survey") {
        match survey::read_bytes(&bytes, "corpus.toml") {
            Ok(house) => {
                for sash in &house.sashes {
                    job::Work::new(sash, &house.workshop).unwrap();
                }
            }
            Err(mistakes) => assert!(mistakes.iter().count() > 0),
        }
    }
}

#[test]
fn programs_give_a_proof_or_their_faults() {
    // Without wood there is nothing to cut, but every word is still read and judged.
    let bare = Rebate {
        platform: -10.0,
        pockets: Vec::new(),
        go: Vec::new(),
        may_go: Vec::new(),
        stay: Vec::new(),
    };
    let mut faulty = 0;
    for bytes in corpus("program") {
        let text = String::from_utf8_lossy(&bytes);
        let programs = [Program::new("corpus.ngc", &text)];
        let proof = prove(&programs, &bare, &Setup::default());
        assert!(proof.is_proven() || !proof.faults.is_empty());
        faulty += usize::from(!proof.is_proven());
    }
    assert!(faulty > 0, "hardly any of these is a program one may run");
}
