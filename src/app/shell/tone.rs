//! A short tone at a cue of a rehearsal. The program makes it, and a player of the
//! system's plays it: where there is none the rehearsal goes on without.

use std::f64::consts::TAU;
use std::io::{self, Write};
use std::process::{Child, Command, Stdio};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// Samples of a second.
const RATE: u32 = 24_000;
/// Height of the tone in hertz.
const HERTZ: f64 = 880.0;
/// Its length in seconds.
const SECONDS: f64 = 0.18;
/// It swells and fades for so long, in seconds, so that it does not click.
const FADE: f64 = 0.02;
/// Its loudness as a share of the greatest.
const LOUD: f64 = 0.25;

/// A player that takes samples of [`RATE`], 16 bits, one channel, and its words.
type Player = (&'static str, &'static [&'static str]);

/// Players of Linux; the first that is there plays.
#[cfg(target_os = "linux")]
const PLAYERS: &[Player] = &[
    ("pacat", &["--raw", "--format=s16le", "--rate=24000", "--channels=1"]),
    ("aplay", &["-q", "-t", "raw", "-f", "S16_LE", "-r", "24000", "-c", "1", "-"]),
];

/// Not tried yet: the system's own tone.
#[cfg(target_os = "windows")]
const PLAYERS: &[Player] =
    &[("powershell", &["-NoProfile", "-Command", "[console]::beep(880,180)"])];

/// Not tried yet: the system's own tone.
#[cfg(target_os = "macos")]
const PLAYERS: &[Player] = &[("osascript", &["-e", "beep"])];

#[cfg(not(any(target_os = "linux", target_os = "windows", target_os = "macos")))]
const PLAYERS: &[Player] = &[];

/// The samples of the tone.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // a fifth of a second
fn samples() -> Vec<i16> {
    let count = (SECONDS * f64::from(RATE)) as u32;
    let sample = |i: u32| {
        let at = f64::from(i) / f64::from(RATE);
        let swell = (at / FADE).min((SECONDS - at) / FADE).clamp(0.0, 1.0);
        ((TAU * HERTZ * at).sin() * swell * LOUD * f64::from(i16::MAX)) as i16
    };
    (0..count).map(sample).collect()
}

/// Whether tones are heard.
#[derive(Debug, Clone, Default)]
pub struct Tone {
    silent: Arc<AtomicBool>,
}

impl Tone {
    /// Plays it on a thread of its own.
    pub fn play(&self) {
        let silent = Arc::clone(&self.silent);
        std::thread::spawn(move || {
            let heard = PLAYERS.iter().any(|player| play(*player).is_ok_and(|heard| heard));
            silent.store(!heard, Ordering::Relaxed);
        });
    }

    /// No player was found, or none would play, the last time.
    pub fn is_silent(&self) -> bool {
        self.silent.load(Ordering::Relaxed)
    }
}

/// Whether a player played it to its end.
fn play((player, words): Player) -> io::Result<bool> {
    let quiet = || Stdio::null();
    let mut command = Command::new(player);
    command.args(words).stdin(Stdio::piped()).stdout(quiet()).stderr(quiet());
    let mut child: Child = command.spawn()?;
    let bytes: Vec<u8> = samples().into_iter().flat_map(i16::to_le_bytes).collect();
    // One that makes its own tone does not read these.
    let given = child.stdin.take().map_or(Ok(()), |mut to| to.write_all(&bytes));
    let ended = child.wait()?;
    Ok(ended.success() && (given.is_ok() || !cfg!(target_os = "linux")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_tone_swells_and_fades_and_is_as_high_as_it_says() {
        let samples = samples();
        assert_eq!(samples.len(), 4320);
        assert!(samples[0] == 0 && samples.last().is_some_and(|last| last.abs() < 100));
        let loudest = samples.iter().map(|s| s.unsigned_abs()).max().unwrap_or_default();
        assert!((7_000..8_400).contains(&loudest), "{loudest}");
        let ups = samples.windows(2).filter(|pair| pair[0] < 0 && 0 <= pair[1]).count();
        let expected = HERTZ * SECONDS;
        assert!((ups as f64 - expected).abs() < 2.0, "{ups} for {expected}");
    }

    #[cfg(unix)]
    #[test]
    fn a_player_that_is_not_there_or_fails_is_no_fault() {
        assert!(play(("no-such-player-of-tones", &[])).is_err());
        assert!(play(("false", &[])).is_ok_and(|heard| !heard));
        assert!(play(("cat", &[])).is_ok_and(|heard| heard));
    }
}
