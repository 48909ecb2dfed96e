//! What an ingredient does in a mixture, suggested by its name.

use crate::file::format::{RecipeShape, RoleShape};
use crate::file::library;

/// Words that say what a thing is when its name ends with them: any flour is
/// flour. Others do not: not every powder raises.
const KINDS: [&str; 14] = [
    "flour",
    "sugar",
    "oil",
    "milk",
    "margarine",
    "butter",
    "syrup",
    "treacle",
    "yeast",
    "water",
    "juice",
    "egg",
    "eggs",
    "drink",
];

/// What the library's ingredients do, to ask for many names.
#[derive(Debug, Clone, Default)]
pub struct Roles(Vec<RecipeShape>);

impl Roles {
    /// Those of the library's recipes.
    pub fn of_library() -> Self {
        Self(library::recipes().unwrap_or_default())
    }

    /// What the library's ingredient of that name does, or those whose names
    /// end with the same word; capital letters do not count. `None` if it knows
    /// none.
    pub fn of(&self, name: &str) -> Option<RoleShape> {
        let name = name.trim().to_lowercase();
        let last = |name: &str| name.rsplit(' ').next().map(str::to_owned);
        let kind = last(&name).filter(|word| KINDS.contains(&word.as_str()));
        let known = || self.0.iter().flat_map(|r| &r.ingredients);
        let exact = known().find(|i| i.name.to_lowercase() == name);
        let alike = || known().find(|i| kind.is_some() && last(&i.name.to_lowercase()) == kind);
        exact.or_else(alike)?.role
    }
}

/// What an ingredient of that name does, as [`Roles::of`] says.
pub fn role(name: &str) -> Option<RoleShape> {
    Roles::of_library().of(name)
}

/// The part of an ingredient that is called otherwise now: the one its new
/// name suggests, unless somebody has chosen another than the old suggested.
pub fn role_after(old: &str, now: Option<RoleShape>, new: &str) -> Option<RoleShape> {
    if now.is_none() || now == role(old) { role(new) } else { now }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn flour_is_flour() {
        assert_eq!(role("Self-raising flour"), Some(RoleShape::Flour));
        assert_eq!(role("spelt flour "), Some(RoleShape::Flour));
        assert_eq!(role("demerara sugar"), Some(RoleShape::Sugar));
        assert_eq!(role("eggs"), Some(RoleShape::Egg));
        assert_eq!(role("baking powder"), Some(RoleShape::Raising));
        assert_eq!(role("cocoa powder"), None);
        assert_eq!(role("sultanas"), None);
        assert_eq!(role(""), None);
    }

    #[test]
    fn what_was_chosen_stays() {
        let after = |now, new| role_after("ingredient 1", now, new);
        assert_eq!(after(None, "plain flour"), Some(RoleShape::Flour));
        assert_eq!(after(Some(RoleShape::Liquid), "plain flour"), Some(RoleShape::Liquid));
        let flour = Some(RoleShape::Flour);
        assert_eq!(role_after("plain flour", flour, "butter"), Some(RoleShape::Fat));
        assert_eq!(role_after("plain flour", flour, "sultanas"), None);
    }
}
