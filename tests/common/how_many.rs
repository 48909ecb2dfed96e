//! How much a test looks at.

/// So many as the environment asks for under this name, else the usual number.
pub fn how_many(variable: &str, usual: u64) -> u64 {
    std::env::var(variable).ok().and_then(|n| n.parse().ok()).unwrap_or(usual)
}

/// Plans built of a lesson where a test is about something else than how good they are.
#[allow(dead_code)] // not every test wants it
pub const FEW_PLANS: u64 = 50;

/// So many generated lessons.
#[allow(dead_code)] // the tests of the window generate none by number
pub fn how_many_lessons(usual: u64) -> u64 {
    how_many("OVENBELL_LESSONS", usual)
}
