//! Closing steps of the class that a teacher can drop when time runs out.

/// Words in the names of closing steps that can be dropped. A check of the
/// units, washing of hands and dismissal never can (common practice of the
/// trade; judgement, not measured).
const DROPPED: [&str; 5] = ["plenary", "wrap-up", "recap", "reflection", "exit ticket"];

/// Whether a closing step of that name can be dropped.
pub fn may_be_dropped(name: &str) -> bool {
    let name = name.to_lowercase();
    DROPPED.iter().any(|word| name.contains(word))
}
