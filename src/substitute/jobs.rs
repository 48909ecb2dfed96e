//! What an ingredient does in a mixture (common practice of the trade, from memory).

use crate::file::format::RoleShape;

/// Something that an ingredient does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Job {
    /// It sets to the crumb: the starch and protein of flour, the white of eggs.
    Sets,
    /// It holds the mixture together.
    Binds,
    /// It holds the air that is beaten or whisked into it.
    HoldsAir,
    /// It gives off gas.
    Raises,
    /// It wets the flour; its steam lifts.
    Wets,
    /// It keeps the crumb short and tender.
    MakesTender,
    /// It sweetens.
    Sweetens,
    /// It keeps the bake moist for longer.
    KeepsMoist,
    /// It browns.
    Browns,
    /// It gives taste, bite or colour, and little else.
    Flavours,
}

/// What an ingredient of that name and role does, the most important first.
pub fn jobs(name: &str, role: Option<RoleShape>) -> &'static [Job] {
    use Job::{
        Binds, Browns, Flavours, HoldsAir, KeepsMoist, MakesTender, Raises, Sets, Sweetens, Wets,
    };
    let name = name.to_lowercase();
    match role.unwrap_or(RoleShape::Other) {
        RoleShape::Flour if name.contains("self-raising") || name.contains("self-rising") => {
            &[Sets, Raises]
        }
        RoleShape::Flour => &[Sets],
        RoleShape::Fat if name.contains("oil") => &[MakesTender, KeepsMoist],
        RoleShape::Fat => &[MakesTender, HoldsAir, Flavours],
        RoleShape::Sugar => &[Sweetens, HoldsAir, KeepsMoist, Browns],
        RoleShape::Syrup => &[Sweetens, KeepsMoist, Browns],
        RoleShape::Egg => &[Binds, Sets, HoldsAir, Wets, Browns],
        RoleShape::Liquid if name.contains("milk") => &[Wets, Browns],
        RoleShape::Liquid => &[Wets],
        RoleShape::Raising => &[Raises],
        RoleShape::Other => &[Flavours],
    }
}
