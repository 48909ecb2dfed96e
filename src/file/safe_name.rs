//! File names made of names that people give to things, right on every system
//! a lesson may be carried to.

/// Longest name made here, in characters, before its ending.
const LONGEST: usize = 60;
/// The same in bytes: with an ending, and the letters of a temporary file, it
/// stays below what the strictest common systems allow (143).
const LONGEST_BYTES: usize = 100;

/// Names that mean devices on Windows, whatever their ending.
const DEVICES: [&str; 6] = ["con", "prn", "aux", "nul", "conin$", "conout$"];

/// The name of a file, without an ending, for a thing of this name. Letters
/// and digits of any script stay; what some system forbids becomes a hyphen.
/// Different things may come to the same name.
pub fn safe_name(name: &str) -> String {
    let mut safe = String::new();
    for c in name.chars().filter(|c| !is_mark(*c)) {
        let c = if c.is_alphanumeric() || " -_(),&+'".contains(c) { c } else { '-' };
        let doubled = safe.chars().next_back().is_some_and(|last| last == c && " -".contains(c));
        if safe.chars().count() == LONGEST || safe.len() + c.len_utf8() > LONGEST_BYTES {
            break;
        }
        if !doubled {
            safe.push(c);
        }
    }
    let safe = safe.trim_matches(|c| " -".contains(c));
    if safe.is_empty() {
        return "without a name".to_owned();
    }
    if is_device(safe) { format!("{safe} -") } else { safe.to_owned() }
}

/// What two names that some system takes for the same have in common.
pub fn folded(file_name: &str) -> String {
    file_name.to_lowercase().to_uppercase()
}

/// Accents that stand by themselves: systems disagree on whether they and
/// their letter are one character.
fn is_mark(c: char) -> bool {
    ('\u{300}'..='\u{36f}').contains(&c)
}

fn is_device(name: &str) -> bool {
    let name = name.to_lowercase();
    let port = |word: &str| {
        let number = name.strip_prefix(word);
        number.is_some_and(|n| n.chars().count() == 1 && n.chars().all(char::is_numeric))
    };
    DEVICES.contains(&name.as_str()) || port("com") || port("lpt")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn usual_names_stay_as_they_are() {
        for name in ["Lemon bake, 20 cm", "8 Harbour (Friday)", "Käse-Brötchen", "ふわふわ"] {
            assert_eq!(safe_name(name), name);
        }
    }

    #[test]
    fn what_a_system_forbids_gives_way() {
        assert_eq!(safe_name("buns: plain / \"rich\"?"), "buns- plain - -rich");
        assert_eq!(safe_name("../../etc/passwd"), "etc-passwd");
        assert_eq!(safe_name("trailing dots... "), "trailing dots");
        assert_eq!(safe_name(" .hidden"), "hidden");
        assert_eq!(safe_name("a\u{0}b\nc\u{202e}d"), "a-b-c-d");
        assert_eq!(safe_name("cre\u{300}me"), "creme");
        for name in ["", "...", " ", "///"] {
            assert_eq!(safe_name(name), "without a name");
        }
    }

    #[test]
    fn no_name_means_a_device() {
        for name in ["CON", "nul", "Aux.ron", "com1", "LPT9", "com²", "CONIN$", "prn."] {
            let safe = safe_name(name);
            let stem = safe.split('.').next().unwrap_or_default();
            assert!(!is_device(stem), "{name} became {safe}");
        }
        assert_eq!(safe_name("com12"), "com12");
        assert_eq!(safe_name("console"), "console");
    }

    #[test]
    fn long_names_are_cut_between_letters() {
        assert_eq!(safe_name(&"a".repeat(500)).len(), LONGEST);
        let wide = safe_name(&"粉".repeat(500));
        assert!(wide.len() <= LONGEST_BYTES && wide.chars().all(|c| c == '粉'));
    }

    #[test]
    fn names_are_told_apart_as_the_strictest_system_does() {
        assert_eq!(folded("Scones.ron"), folded("SCONES.RON"));
        assert_eq!(folded("straße"), folded("STRASSE"));
        assert_ne!(folded("scones"), folded("stones"));
    }
}
