//! The id of a lesson: what other files know it by, wherever its file goes.

use std::collections::hash_map::RandomState;
use std::fmt;
use std::hash::BuildHasher;
use std::str::FromStr;
use std::time::SystemTime;

use thiserror::Error;

/// Birds, so that an id can be told apart at a glance and said aloud.
const WORDS: [&str; 32] = [
    "avocet", "bittern", "bunting", "chough", "crane", "curlew", "dipper", "dunlin", "finch",
    "fulmar", "gannet", "godwit", "heron", "kestrel", "lapwing", "lark", "linnet", "martin",
    "merlin", "nuthatch", "osprey", "ouzel", "petrel", "pipit", "plover", "puffin", "redwing",
    "robin", "siskin", "swift", "tern", "wren",
];

/// The longest word of an id, in letters.
const LONGEST: usize = 20;

/// The id of a lesson: a plain word and four hexadecimal digits, "heron-4c2f".
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LessonId(String);

/// What is no id of a lesson.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("an id is a word, a hyphen and four of 0 to 9 and a to f, like \"heron-4c2f\"")]
pub struct NoLessonId;

impl LessonId {
    /// An id that no other lesson is likely to have: there are two million.
    pub fn fresh() -> Self {
        // The keys of a hash are drawn by the system.
        Self::numbered(RandomState::new().hash_one(SystemTime::now()))
    }

    fn numbered(number: u64) -> Self {
        let word = usize::try_from((number >> 16) % 32).unwrap_or(0);
        Self(format!("{}-{:04x}", WORDS[word], number & 0xffff))
    }
}

impl FromStr for LessonId {
    type Err = NoLessonId;
    fn from_str(text: &str) -> Result<Self, NoLessonId> {
        let (word, digits) = text.rsplit_once('-').ok_or(NoLessonId)?;
        let letters = word.bytes().all(|b| b.is_ascii_lowercase());
        let hex = digits.bytes().all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f'));
        let plausible = (1..=LONGEST).contains(&word.len()) && digits.len() == 4;
        if letters && hex && plausible { Ok(Self(text.to_owned())) } else { Err(NoLessonId) }
    }
}

impl fmt::Display for LessonId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_id_that_is_given_reads_as_one() {
        let mut all: Vec<LessonId> = (0..200).map(|_| LessonId::fresh()).collect();
        all.push(LessonId::numbered(0));
        all.push(LessonId::numbered(u64::MAX));
        for id in &all {
            assert_eq!(id.to_string().parse().as_ref(), Ok(id));
        }
        all.sort();
        all.dedup();
        assert!(all.len() > 150, "ids are given again and again");
    }

    #[test]
    fn what_is_no_id_is_refused() {
        for text in ["", "heron", "heron-", "-4c2f", "heron-4c2", "heron-4c2fa", "Heron-4c2f"] {
            assert_eq!(text.parse::<LessonId>(), Err(NoLessonId), "{text}");
        }
        for text in ["heron-4C2F", "heron 4c2f", "two words-4c2f", "heron-4c2g", "hérons-4c2f"] {
            assert_eq!(text.parse::<LessonId>(), Err(NoLessonId), "{text}");
        }
        assert!("anyplainword-0000".parse::<LessonId>().is_ok());
    }
}
