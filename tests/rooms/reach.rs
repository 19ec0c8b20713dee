//! Where a path leads: to which room, and to which file.

use crate::rooms::sources::{Module, Modules, Segments};
use std::collections::{BTreeMap, BTreeSet};

/// No chain of `use` in a crate is as long; one that is, leads in a ring.
const LONGEST: usize = 32;

/// A place in the crate: a module, and the name of an item in it if it is no module itself.
struct Place {
    module: Segments,
    item: Option<String>,
}

/// Follows `path`, written in the module `from`, through `super`, renames and what is handed on, to where
/// it is declared. Each module passed on the way that hands it on is put into `through`. Nothing for
/// a path of another crate.
fn follow(
    modules: &Modules,
    from: &[String],
    path: &[String],
    through: &mut BTreeSet<Segments>,
    steps: usize,
) -> Option<Place> {
    if steps > LONGEST {
        return None;
    }
    let (first, mut rest) = path.split_first()?;
    let mut module: Segments = match first.as_str() {
        "crate" => Vec::new(),
        "self" => from.to_vec(),
        "super" => from.split_last()?.1.to_vec(),
        _ => {
            rest = path;
            from.to_vec()
        }
    };
    while let Some(("super", after)) =
        rest.split_first().map(|(name, after)| (name.as_str(), after))
    {
        (module, rest) = (module.split_last()?.1.to_vec(), after);
    }
    // A name on its own is looked up where it stands; it may be of another crate.
    let mut bare = rest.len() == path.len();
    while let Some((name, after)) = rest.split_first().filter(|(name, _)| *name != "self") {
        let scope = modules.get(&module)?;
        let child = [module.as_slice(), std::slice::from_ref(name)].concat();
        let place = |module| Some(Place { module, item: Some(name.clone()) });
        if modules.contains_key(&child) {
            (module, rest) = (child, after);
        } else if let Some(meant) = scope.names.get(name).filter(|meant| *meant != path) {
            through.insert(module.clone());
            let whole = [meant, after].concat();
            return follow(modules, &module, &whole, through, steps + 1);
        } else if name == "*" || scope.own.contains(name) {
            return place(module);
        } else {
            for glob in scope.globs.iter().filter(|glob| glob.as_slice() != path) {
                let mut passed = BTreeSet::new();
                let Some(opened) = follow(modules, &module, glob, &mut passed, steps + 1) else {
                    continue;
                };
                let within = modules.get(&opened.module).filter(|_| opened.item.is_none());
                let has =
                    |within: &Module| within.own.contains(name) || within.names.contains_key(name);
                if opened.module != module && within.is_some_and(has) {
                    through.extend(passed);
                    return follow(modules, &opened.module, rest, through, steps + 1);
                }
            }
            return if bare { None } else { place(module) };
        }
        bare = false;
    }
    Some(Place { module, item: None })
}

/// The rooms that the code of each room reaches, and where: by the path as written, by what hands it on, and by
/// where it is declared in the end. Its tests count too: a test that reaches further hides a dependence.
pub(crate) fn rooms(modules: &Modules) -> BTreeMap<String, BTreeMap<String, String>> {
    let mut found: BTreeMap<String, BTreeMap<String, String>> = BTreeMap::new();
    for (path, module) in modules {
        let Some(room) = path.first() else { continue };
        let reached = found.entry(room.clone()).or_default();
        for named in &module.paths {
            let mut through = BTreeSet::new();
            let Some(place) = follow(modules, path, &named.path, &mut through, 0) else { continue };
            through.insert(place.module);
            // `crate::Item` names no room.
            for other in through.iter().filter_map(|module| module.first()).filter(|o| *o != room) {
                let place = format!("{}: {}", module.file, named.path.join("::"));
                reached.entry(other.clone()).or_insert(place);
            }
        }
    }
    found
}

/// Which other files each file needs: those that declare what it names. What a module only hands on from its
/// own children it does not need itself; a file may use what the module that it is part of declares; and the
/// name of a module alone is no need.
pub(crate) fn files(modules: &Modules) -> BTreeMap<String, BTreeSet<String>> {
    let mut found: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for (path, module) in modules.iter().filter(|(_, module)| !module.test) {
        let needs = found.entry(module.file.clone()).or_default();
        for named in &module.paths {
            let Some(place) = follow(modules, path, &named.path, &mut BTreeSet::new(), 0) else {
                continue;
            };
            let own = named.handed_on && place.module.starts_with(path);
            let above = path.starts_with(&place.module);
            let Some(other) = modules.get(&place.module) else { continue };
            if place.item.is_some() && !own && !above && other.file != module.file {
                needs.insert(other.file.clone());
            }
        }
    }
    found
}

/// Groups of two or more that reach one another.
pub(crate) fn rings(needs: &BTreeMap<String, BTreeSet<String>>) -> Vec<BTreeSet<String>> {
    let reach = |from: &String| {
        let mut reached = BTreeSet::new();
        let mut open: Vec<&String> = vec![from];
        while let Some(next) = open.pop() {
            for other in needs.get(next).into_iter().flatten() {
                if reached.insert(other) {
                    open.push(other);
                }
            }
        }
        reached
    };
    let reached: BTreeMap<&String, BTreeSet<&String>> =
        needs.keys().map(|name| (name, reach(name))).collect();
    let ring = |name: &String| -> BTreeSet<String> {
        let back = |other: &&&String| reached.get(**other).is_some_and(|from| from.contains(name));
        reached[name].iter().filter(back).map(|other| (*other).clone()).collect()
    };
    let rings: BTreeSet<BTreeSet<String>> =
        needs.keys().map(ring).filter(|ring| ring.len() > 1).collect();
    rings.into_iter().collect()
}
