//! The modules of a crate as its sources declare them: what each names, and in which file it stands.
//!
//! Read by `syn`, so nested braces, renamed imports and paths in the middle of code all count. Inside a
//! macro call, a macro's own text or an attribute, every `a::b` counts that the tokens spell. Not seen:
//! a method called on a value, which needs no path.

use proc_macro2::{Delimiter, TokenStream, TokenTree};
use std::collections::{BTreeMap, BTreeSet};
use syn::visit::{self, Visit};
use syn::{Attribute, Ident, Item, ItemMod, ItemUse, Lit, Meta, UseTree};

/// The segments of a path: `crate::fit::Fit` is `["crate", "fit", "Fit"]`.
pub(crate) type Segments = Vec<String>;

/// What one module declares and names.
#[derive(Debug, Default)]
pub(crate) struct Module {
    /// Its file, from the folder of sources: `survey/mod.rs`.
    pub(crate) file: String,
    /// Whether it is built for tests alone.
    pub(crate) test: bool,
    /// Names of its own items.
    pub(crate) own: BTreeSet<String>,
    /// Names that `use` or a child module brings in, and what each stands for.
    pub(crate) names: BTreeMap<String, Segments>,
    /// What `use …::*` opens.
    pub(crate) globs: Vec<Segments>,
    /// Every path that is more than a name, as written.
    pub(crate) paths: Vec<Named>,
}

/// A path as written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Named {
    pub(crate) path: Segments,
    /// Handed on to others (`pub use`), not needed here.
    pub(crate) handed_on: bool,
}

/// All modules by their path from the root of the crate, which itself is the empty path.
pub(crate) type Modules = BTreeMap<Segments, Module>;

/// Reads the crate whose root is `lib.rs`; `open` gives the text of a file.
pub(crate) fn modules(open: &dyn Fn(&str) -> Option<String>) -> Modules {
    let mut found = Modules::new();
    let text = open("lib.rs").expect("a crate has a root");
    let home = Home { file: "lib.rs".to_owned(), folder: String::new(), test: false };
    read(&parsed(&home.file, &text), &[], &home, open, &mut found);
    found
}

/// Where a module stands: its file, the folder of its children, and whether it is for tests alone.
struct Home {
    file: String,
    folder: String,
    test: bool,
}

fn parsed(file: &str, text: &str) -> Vec<Item> {
    syn::parse_file(text).unwrap_or_else(|error| panic!("{file}: {error}")).items
}

fn read(
    items: &[Item],
    path: &[String],
    home: &Home,
    open: &dyn Fn(&str) -> Option<String>,
    found: &mut Modules,
) {
    let mut reader = Reader { module: Module::default() };
    (reader.module.file, reader.module.test) = (home.file.clone(), home.test);
    for item in items.iter().filter(|item| home.test || !for_tests(head(item).0)) {
        reader.module.own.extend(head(item).1.map(Ident::to_string));
        reader.visit_item(item);
    }
    for child in
        items.iter().filter_map(|item| if let Item::Mod(child) = item { Some(child) } else { None })
    {
        let name = child.ident.to_string();
        let path: Segments = path.iter().cloned().chain([name.clone()]).collect();
        let whole = [vec!["crate".to_owned()], path.clone()].concat();
        reader.module.names.insert(name, whole);
        read_child(child, &path, home, open, found);
    }
    found.insert(path.to_vec(), reader.module);
}

fn read_child(
    child: &ItemMod,
    path: &[String],
    home: &Home,
    open: &dyn Fn(&str) -> Option<String>,
    found: &mut Modules,
) {
    let moved = child.attrs.iter().any(|attribute| attribute.path().is_ident("path"));
    assert!(!moved, "{}: a module stands where its name says, without #[path]", home.file);
    let folder = format!("{}{}/", home.folder, child.ident);
    let test = home.test || for_tests(&child.attrs);
    if let Some((_, items)) = &child.content {
        return read(items, path, &Home { file: home.file.clone(), folder, test }, open, found);
    }
    let files = [format!("{}{}.rs", home.folder, child.ident), format!("{folder}mod.rs")];
    let (file, text) = files
        .into_iter()
        .find_map(|file| open(&file).map(|text| (file, text)))
        .unwrap_or_else(|| panic!("{}: no file for `mod {}`", home.file, child.ident));
    read(&parsed(&file, &text), path, &Home { file, folder, test }, open, found);
}

/// What stands before an item, and the name that it declares.
fn head(item: &Item) -> (&[Attribute], Option<&Ident>) {
    match item {
        Item::Const(item) => (&item.attrs, Some(&item.ident)),
        Item::Enum(item) => (&item.attrs, Some(&item.ident)),
        Item::Fn(item) => (&item.attrs, Some(&item.sig.ident)),
        Item::Impl(item) => (&item.attrs, None),
        Item::Macro(item) => (&item.attrs, item.ident.as_ref()),
        Item::Mod(item) => (&item.attrs, None),
        Item::Static(item) => (&item.attrs, Some(&item.ident)),
        Item::Struct(item) => (&item.attrs, Some(&item.ident)),
        Item::Trait(item) => (&item.attrs, Some(&item.ident)),
        Item::Type(item) => (&item.attrs, Some(&item.ident)),
        Item::Use(item) => (&item.attrs, None),
        _ => (&[], None),
    }
}

fn for_tests(attributes: &[Attribute]) -> bool {
    attributes.iter().any(|attribute| {
        attribute.path().is_ident("cfg")
            && attribute.parse_args::<syn::Path>().is_ok_and(|asked| asked.is_ident("test"))
    })
}

struct Reader {
    module: Module,
}

impl Reader {
    fn named(&mut self, path: Segments, handed_on: bool) {
        self.module.paths.push(Named { path, handed_on });
    }

    fn tree(&mut self, tree: &UseTree, before: &[String], handed_on: bool) {
        let with = |name: &dyn ToString| [before, &[name.to_string()]].concat();
        match tree {
            UseTree::Path(part) => self.tree(&part.tree, &with(&part.ident), handed_on),
            UseTree::Group(group) => {
                group.items.iter().for_each(|tree| self.tree(tree, before, handed_on));
            }
            UseTree::Glob(_) => {
                self.module.globs.push(before.to_vec());
                self.named(with(&"*"), handed_on);
            }
            UseTree::Name(name) if name.ident == "self" => {
                self.bring(before.last().cloned().unwrap_or_default(), before.to_vec(), handed_on);
            }
            UseTree::Name(name) => self.bring(name.ident.to_string(), with(&name.ident), handed_on),
            UseTree::Rename(name) if name.ident == "self" => {
                self.bring(name.rename.to_string(), before.to_vec(), handed_on);
            }
            UseTree::Rename(name) => {
                self.bring(name.rename.to_string(), with(&name.ident), handed_on);
            }
        }
    }

    fn bring(&mut self, name: String, path: Segments, handed_on: bool) {
        self.module.names.insert(name, path.clone());
        self.named(path, handed_on);
    }

    /// Every `a::b` among the tokens, `a::{b, c}` too, after `before`.
    fn tokens(&mut self, tokens: TokenStream, before: &[String]) {
        let mut path = before.to_vec();
        let mut tokens = tokens.into_iter().peekable();
        // A second colon of two after a name: the path goes on.
        let mut joined = true;
        while let Some(token) = tokens.next() {
            let goes_on = std::mem::take(&mut joined);
            match token {
                TokenTree::Ident(name) => {
                    if !goes_on {
                        self.finish(&mut path, before);
                    }
                    path.push(name.to_string());
                }
                TokenTree::Punct(colon) if colon.as_char() == ':' => {
                    joined = matches!(tokens.peek(), Some(TokenTree::Punct(next)) if next.as_char() == ':');
                    if joined {
                        tokens.next();
                    } else {
                        self.finish(&mut path, before);
                    }
                }
                TokenTree::Group(group) if goes_on && group.delimiter() == Delimiter::Brace => {
                    self.tokens(group.stream(), &path);
                    path = before.to_vec();
                }
                TokenTree::Group(group) => {
                    self.finish(&mut path, before);
                    self.tokens(group.stream(), &[]);
                }
                TokenTree::Punct(_) | TokenTree::Literal(_) => self.finish(&mut path, before),
            }
        }
        self.finish(&mut path, before);
    }

    fn finish(&mut self, path: &mut Segments, before: &[String]) {
        if path.len() > before.len() && path.len() > 1 {
            self.named(path.clone(), false);
        }
        *path = before.to_vec();
    }
}

impl<'ast> Visit<'ast> for Reader {
    // Modules are read on their own.
    fn visit_item_mod(&mut self, _: &'ast ItemMod) {}

    fn visit_visibility(&mut self, _: &'ast syn::Visibility) {}

    fn visit_item_use(&mut self, item: &'ast ItemUse) {
        if item.leading_colon.is_none() {
            self.tree(&item.tree, &[], !matches!(item.vis, syn::Visibility::Inherited));
        }
    }

    fn visit_path(&mut self, path: &'ast syn::Path) {
        if path.leading_colon.is_none() && path.segments.len() > 1 {
            let segments = path.segments.iter().map(|segment| segment.ident.to_string());
            self.named(segments.collect(), false);
        }
        visit::visit_path(self, path);
    }

    fn visit_macro(&mut self, call: &'ast syn::Macro) {
        self.visit_path(&call.path);
        self.tokens(call.tokens.clone(), &[]);
    }

    fn visit_attribute(&mut self, attribute: &'ast Attribute) {
        let Meta::List(list) = &attribute.meta else { return };
        self.tokens(list.tokens.clone(), &[]);
        // `#[serde(with = "crate::…")]`
        for token in list.tokens.clone() {
            let TokenTree::Literal(text) = token else { continue };
            let Ok(Lit::Str(text)) = syn::parse_str::<Lit>(&text.to_string()) else { continue };
            if let Ok(path) = text.parse::<syn::Path>() {
                self.visit_path(&path);
            }
        }
    }
}
