//! The window ended from outside: by the system that shuts down, by a terminal
//! that closes, or by somebody's `kill`.

/// Keeps what is not saved before the window is ended by a signal (POSIX:
/// terminate, interrupt, hang up), and then lets it be ended.
#[cfg(unix)]
pub(super) fn keep_unsaved_first() {
    use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
    /// Whoever ends a program waits for it no longer than some seconds.
    const PATIENCE: std::time::Duration = std::time::Duration::from_secs(3);
    // Without it the copies are as old as they are.
    let Ok(mut signals) = signal_hook::iterator::Signals::new([SIGTERM, SIGINT, SIGHUP]) else {
        return;
    };
    std::thread::spawn(move || {
        for signal in &mut signals {
            crate::file::keep_all(PATIENCE);
            let _ = signal_hook::low_level::emulate_default_handler(signal);
        }
    });
}

/// Elsewhere the system asks a window to close, as its user does.
#[cfg(not(unix))]
pub(super) fn keep_unsaved_first() {}
