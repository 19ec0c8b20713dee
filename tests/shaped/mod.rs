//! Sashes of every shape, invented, and what is worked out for them.

#![allow(dead_code, missing_docs, unreachable_pub, reason = "each test binary takes what it needs")]

use fillister::job::Work;
use fillister::sheets::Subject;
use fillister::survey::{self, House};

const SHAPES: &str = include_str!("shapes.toml");

pub fn house() -> House {
    survey::read(SHAPES, "shapes.toml").unwrap_or_else(|mistakes| panic!("{mistakes}"))
}

pub fn works(house: &House) -> Vec<Work> {
    house.sashes.iter().map(|sash| Work::new(sash, &house.workshop).unwrap()).collect()
}

pub fn subject<'a>(house: &'a House, work: &'a Work) -> Subject<'a> {
    Subject {
        house: &house.name,
        workshop: &house.workshop,
        sash: &work.sash,
        fit: &work.fit,
        rebate: &work.rebate,
        timber: &work.timber,
        plan: &work.plan,
        set_ups: &[],
    }
}
