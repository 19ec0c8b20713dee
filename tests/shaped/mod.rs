//! Sashes of every shape, invented, and what is worked out for them.

use fillister::job::Work;
use fillister::sheets::Subject;
use fillister::survey::{self, House};

const SHAPES: &str = include_str!("shapes.toml");

pub(crate) fn house() -> House {
    survey::read(SHAPES, "shapes.toml").unwrap_or_else(|mistakes| panic!("{mistakes}"))
}

pub(crate) fn works(house: &House) -> Vec<Work> {
    house.sashes.iter().map(|sash| Work::new(sash, &house.workshop).unwrap()).collect()
}

pub(crate) fn subject<'a>(house: &'a House, work: &'a Work) -> Subject<'a> {
    Subject {
        house: &house.name,
        workshop: &house.workshop,
        sash: &work.sash,
        fit: &work.fit,
        rebate: &work.rebate,
        timber: &work.timber,
        materials: &work.materials,
    }
}
