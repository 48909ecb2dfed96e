//! Languages of a second line for pupils.

use std::fmt;
use std::str::FromStr;

use thiserror::Error;

/// A language by its code: two or three small letters (ISO 639).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Language([u8; 3], usize);

/// What is no code of a language.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[error("a language is two or three small letters, as pl for Polish or uk for Ukrainian")]
pub struct NoLanguage;

impl Language {
    /// Its code.
    pub fn code(&self) -> &str {
        self.0.get(..self.1).and_then(|code| std::str::from_utf8(code).ok()).unwrap_or_default()
    }
}

impl FromStr for Language {
    type Err = NoLanguage;
    fn from_str(text: &str) -> Result<Self, NoLanguage> {
        let letters = text.as_bytes();
        let is_code = matches!(letters.len(), 2 | 3) && letters.iter().all(u8::is_ascii_lowercase);
        if !is_code {
            return Err(NoLanguage);
        }
        let mut code = [0; 3];
        code.iter_mut().zip(letters).for_each(|(to, letter)| *to = *letter);
        Ok(Self(code, letters.len()))
    }
}

impl fmt::Display for Language {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_language_is_two_or_three_small_letters() {
        let code = |text: &str| text.parse::<Language>().map(|l| l.to_string());
        assert_eq!(code("pl"), Ok("pl".to_owned()));
        assert_eq!(code("ckb"), Ok("ckb".to_owned()));
        for wrong in ["", "p", "PL", "polski", "p1", "ł"] {
            assert_eq!(code(wrong), Err(NoLanguage), "{wrong}");
        }
    }
}
