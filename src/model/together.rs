//! How far minutes go together.

/// How far minutes go together: shares of the variance of the normals behind
/// them. What is left is each quantity's own. All of it is judgement: nobody
/// has measured it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Together {
    /// Of hand steps, what the whole class shares.
    pub class: f64,
    /// Of hand steps, what a group's steps share.
    pub group: f64,
    /// Of bakes, what an oven's share.
    pub oven: f64,
    /// Of bakes, what a mixture's share.
    pub mixture: f64,
    /// Of the class's own steps, what they share with the class's hands.
    pub class_steps: f64,
}

impl Together {
    /// Common practice of the trade: judgement, not measured.
    pub const USUAL: Together =
        Together { class: 0.2, group: 0.3, oven: 0.3, mixture: 0.2, class_steps: 0.2 };
    /// Everything for itself, which is what closed forms know.
    pub const INDEPENDENT: Together =
        Together { class: 0.0, group: 0.0, oven: 0.0, mixture: 0.0, class_steps: 0.0 };
}
