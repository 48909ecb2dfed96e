//! The licences under which the program and all that is handed on with it stand:
//! its own, those of its typefaces, and those of the packages it is made with, as
//! `assets/licences/make` gathers them.

use std::sync::LazyLock;

const GATHERED: &str = include_str!("../../assets/licences/licences.txt");

/// Packages named in a title before the others are only counted.
const NAMED: usize = 3;

/// A licence, and what stands under it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Licence {
    /// What the licence, or what stands under it, is called.
    pub name: &'static str,
    /// Packages with their versions; none of what is the program's own.
    pub packages: Vec<&'static str>,
    /// Its text as whoever grants it wrote it; several where several grant it.
    pub texts: Vec<&'static str>,
}

impl Licence {
    /// A line that tells it from the others.
    pub fn title(&self) -> String {
        let names = self.packages.iter().filter_map(|p| p.split(' ').next());
        let first: Vec<&str> = names.take(NAMED).collect();
        let more = self.packages.len().saturating_sub(first.len());
        match (first.is_empty(), more) {
            (true, _) => self.name.to_owned(),
            (false, 0) => format!("{}: {}", self.name, first.join(", ")),
            (false, _) => format!("{}: {} and {more} more", self.name, first.join(", ")),
        }
    }
}

/// All of them, the program's own first.
pub fn licences() -> &'static [Licence] {
    static ALL: LazyLock<Vec<Licence>> = LazyLock::new(|| {
        let own = [
            ("ovenbell: MIT License", include_str!("../../LICENSE-MIT")),
            ("ovenbell: Apache License 2.0", include_str!("../../LICENSE-APACHE")),
            ("Atkinson Hyperlegible", include_str!("../../assets/fonts/OFL.txt")),
            ("DejaVu Sans", include_str!("../../assets/fonts/DEJAVU.txt")),
        ];
        let own = own.map(|(name, text)| Licence { name, packages: Vec::new(), texts: vec![text] });
        own.into_iter().chain(gathered(GATHERED)).collect()
    });
    &ALL
}

/// Reads the file of licences: each under a heading, its packages in a list.
fn gathered(file: &'static str) -> Vec<Licence> {
    let mut all: Vec<Licence> = Vec::new();
    for part in file.split("\n## ").skip(1) {
        let (name, rest) = part.split_once('\n').unwrap_or((part, ""));
        let (list, text) = rest.split_once("\n\n").unwrap_or((rest, ""));
        let packages: Vec<_> = list.lines().filter_map(|line| line.strip_prefix("- ")).collect();
        let text = text.trim();
        match all.iter_mut().find(|l| l.name == name && l.packages == packages) {
            Some(granted_by_another) => granted_by_another.texts.push(text),
            None => all.push(Licence { name, packages, texts: vec![text] }),
        }
    }
    all
}
