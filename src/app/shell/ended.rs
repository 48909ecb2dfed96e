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
    let heeded = [SIGTERM, SIGINT, SIGHUP].into_iter().filter(|signal| !is_ignored(*signal));
    let Ok(mut signals) = signal_hook::iterator::Signals::new(heeded) else {
        return;
    };
    std::thread::spawn(move || {
        for signal in &mut signals {
            crate::file::keep_all(PATIENCE);
            let _ = signal_hook::low_level::emulate_default_handler(signal);
        }
    });
}

/// Whether whoever started the program wants it to ignore a signal, as `nohup`
/// does; where the system does not say, not.
#[cfg(unix)]
fn is_ignored(signal: i32) -> bool {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let mask = status.lines().find_map(|line| line.strip_prefix("SigIgn:"));
    let mask = mask.and_then(|mask| u64::from_str_radix(mask.trim(), 16).ok()).unwrap_or(0);
    u32::try_from(signal - 1).is_ok_and(|bit| mask.checked_shr(bit).unwrap_or(0) & 1 == 1)
}

/// Elsewhere the system asks a window to close, as its user does.
#[cfg(not(unix))]
pub(super) fn keep_unsaved_first() {}
