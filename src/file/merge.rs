//! Writing a changed lesson or week into the text it was read from, so that
//! comments and the layout of a hand-written file stay: only what differs is
//! written anew.

use serde::Serialize;
use serde::de::DeserializeOwned;

use super::format::{LessonFile, WeekFile};
use super::layout::laid_out_at;
use super::save::{SaveError, write_lesson, write_week};
use super::syntax;
use super::tree::{Brackets, Entry, Tree, Value};

/// The text of a changed lesson, as near to the text it was read from as can
/// be. Where that cannot be kept, a text laid out anew.
///
/// # Errors
/// If the library refuses to write it.
pub fn merged(old: &str, new: &LessonFile) -> Result<String, SaveError> {
    merged_shapes(old, new, write_lesson)
}

/// The same of a week.
///
/// # Errors
/// As [`merged`].
pub fn merged_week(old: &str, new: &WeekFile) -> Result<String, SaveError> {
    merged_shapes(old, new, write_week)
}

fn merged_shapes<T: Serialize + DeserializeOwned>(
    old: &str,
    new: &T,
    write: fn(&T) -> Result<String, SaveError>,
) -> Result<String, SaveError> {
    let laid_out = write(new)?;
    let Ok(before) = read::<T>(old) else { return Ok(laid_out) };
    let plain = syntax::written(&before)?;
    let merged = splice(old, &plain, &laid_out);
    // Whatever the text looks like, it must say what is to be saved.
    let says_the_same =
        |text: &String| read::<T>(text).is_ok_and(|file| write(&file).is_ok_and(|t| t == laid_out));
    Ok(merged.filter(says_the_same).unwrap_or(laid_out))
}

fn read<T: DeserializeOwned>(text: &str) -> Result<T, ron::error::SpannedError> {
    syntax::options().from_str(syntax::without_mark(text))
}

/// Changes to be made in a text, each a stretch of bytes and what it becomes.
type Edits = Vec<(usize, usize, String)>;

/// `old` with what differs between `before` and `after`, which are laid out by
/// the program; `before` says the same as `old`.
fn splice(old: &str, before: &str, after: &str) -> Option<String> {
    let tree = |text| Tree::read(text).whole();
    let (tree_old, tree_before, tree_after) = (tree(old)?, tree(before)?, tree(after)?);
    let text = Old { text: old };
    let mut changes: Edits = Vec::new();
    text.value(&tree_old, &tree_before, &tree_after, &mut changes)?;
    changes.sort_by_key(|c| (c.0, c.1));
    let mut merged = String::new();
    let mut at = 0;
    for (from, to, text) in changes {
        if from < at {
            return None; // they would overlap
        }
        merged.push_str(old.get(at..from)?);
        merged.push_str(&text);
        at = to;
    }
    merged.push_str(old.get(at..)?);
    Some(merged)
}

/// The text that is changed.
struct Old<'a> {
    text: &'a str,
}

impl Old<'_> {
    fn value(&self, old: &Value, before: &Value, after: &Value, out: &mut Edits) -> Option<()> {
        if before.is_like(after) {
            return Some(());
        }
        if let (Some(o), Some(b), Some(a)) = (&old.brackets, &before.brackets, &after.brackets)
            && b.pair == a.pair
            && o.pair == b.pair
            && before.word_as_written() == after.word_as_written()
        {
            let named = |i: &Brackets| i.entries.iter().all(|e| e.name.is_some());
            let is_struct = o.pair.0 == '(' && named(o) && named(b) && named(a);
            if is_struct {
                return self.fields(o, b, a, out);
            }
            if o.entries.len() == b.entries.len() {
                return self.list(o, b, a, out);
            }
        }
        let text = laid_out_at(after, self.level(old.start));
        out.push((old.start, old.end, text));
        Some(())
    }

    /// Fields of the same name each by themselves.
    fn fields(&self, o: &Brackets, b: &Brackets, a: &Brackets, out: &mut Edits) -> Option<()> {
        let of = |i: &Brackets, named: &Entry| {
            i.entries.iter().position(|e| e.name_as_written() == named.name_as_written())
        };
        let mut new: Vec<&Entry> = Vec::new();
        for entry in &a.entries {
            match (of(o, entry), of(b, entry)) {
                (Some(i), Some(j)) => {
                    self.value(&o.entries[i].value, &b.entries[j].value, &entry.value, out)?;
                }
                // Written out with the value it has anyway.
                (Some(i), None) => {
                    let value = &o.entries[i].value;
                    let text = laid_out_at(&entry.value, self.level(value.start));
                    out.push((value.start, value.end, text));
                }
                (None, _) => new.push(entry),
            }
        }
        let gone = b.entries.iter().filter(|e| of(a, e).is_none());
        let gone: Vec<usize> = gone.map(|e| of(o, e)).collect::<Option<_>>()?;
        for &at in &gone {
            self.remove(o, at, out);
        }
        let last_goes = o.entries.len().checked_sub(1).is_some_and(|last| gone.contains(&last));
        self.insert(o, o.entries.len(), (&new, last_goes), out);
        Some(())
    }

    /// Entries of a list: those that stay are told by what they say.
    fn list(&self, o: &Brackets, b: &Brackets, a: &Brackets, out: &mut Edits) -> Option<()> {
        let named_alike =
            |i: usize, j: usize| b.entries[i].name_as_written() == a.entries[j].name_as_written();
        let same = |i: usize, j: usize| {
            named_alike(i, j) && b.entries[i].value.is_like(&a.entries[j].value)
        };
        let (n, m) = (b.entries.len(), a.entries.len());
        let mut kept = common(n, m, &same);
        kept.push((n, m));
        let (mut i, mut j) = (0, 0);
        for (next_i, next_j) in kept {
            // Between two that stay, one after the other is changed.
            while i < next_i && j < next_j && named_alike(i, j) {
                let (old, before) = (&o.entries[i].value, &b.entries[i].value);
                self.value(old, before, &a.entries[j].value, out)?;
                i += 1;
                j += 1;
            }
            let new: Vec<&Entry> = a.entries[j..next_j].iter().collect();
            self.insert(o, i, (&new, false), out);
            for gone in i..next_i {
                self.remove(o, gone, out);
            }
            (i, j) = (next_i + 1, next_j + 1);
        }
        Some(())
    }

    /// Takes an entry away, with its comma and the comments that stand over it.
    fn remove(&self, o: &Brackets, at: usize, out: &mut Edits) {
        let entry = &o.entries[at];
        let from = match at.checked_sub(1).map(|before| &o.entries[before]) {
            Some(before) => self.line_end(before.comma.unwrap_or(before.value.end), entry.start()),
            None => self.line_end(o.from, entry.start()),
        };
        let mut to = entry.comma.unwrap_or(entry.value.end);
        // A comment behind it on its line goes with it.
        let next = o.entries.get(at + 1).map_or(o.to, |e| e.start());
        to = self.line_end(to, next);
        out.push((from, to, String::new()));
    }

    /// The end of the line at a place, if nothing but blanks and a comment
    /// stands between and `until` lies beyond; else the place itself.
    fn line_end(&self, from: usize, until: usize) -> usize {
        let rest = self.text.get(from..until).unwrap_or("");
        match rest.find('\n') {
            Some(end) if rest[..end].trim().is_empty() || rest.trim_start().starts_with("//") => {
                from + end
            }
            _ => from,
        }
    }

    /// Puts entries before the `at`-th of a bracket. The one before that may be
    /// taken away.
    fn insert(
        &self,
        o: &Brackets,
        at: usize,
        (new, before_goes): (&[&Entry], bool),
        out: &mut Edits,
    ) {
        if new.is_empty() {
            return;
        }
        let before = at.checked_sub(1).map(|i| &o.entries[i]);
        let place = match before {
            Some(before) => {
                let end = before.comma.unwrap_or(before.value.end);
                let next = o.entries.get(at).map_or(o.to, |e| e.start());
                self.line_end(end, next)
            }
            None => o.from,
        };
        let first = o.entries.first().map_or(o.to, |e| e.start());
        let opened_out = self.text.get(o.from..first).is_some_and(|gap| gap.contains('\n'));
        let level = self.level(o.from) + 1;
        let mut text = String::new();
        // The comma of what stands before may have to be set first.
        if let Some(before) = before.filter(|b| b.comma.is_none() && !before_goes) {
            out.push((before.value.end, before.value.end, ",".to_owned()));
        }
        for entry in new {
            let value = laid_out_at(&entry.value, level);
            let named = entry.name_as_written().map(|n| format!("{n}: ")).unwrap_or_default();
            if opened_out {
                text.push_str(&format!("\n{}{named}{value},", " ".repeat(4 * level)));
            } else {
                let blank = if before.is_some() || !text.is_empty() { " " } else { "" };
                text.push_str(&format!("{blank}{named}{value},"));
            }
        }
        if !opened_out && o.entries.get(at).is_none() {
            text.pop(); // the last on a line wants none
        }
        out.push((place, place, text));
    }

    /// How deep a place is indented, in steps of four.
    fn level(&self, at: usize) -> usize {
        let line = self.text.get(..at).and_then(|t| t.rfind('\n')).map_or(0, |i| i + 1);
        let blanks = self.text.get(line..).unwrap_or("").chars().take_while(|c| *c == ' ').count();
        blanks / 4
    }
}

/// A longest sequence of pairs that are the same, in order.
fn common(n: usize, m: usize, same: &dyn Fn(usize, usize) -> bool) -> Vec<(usize, usize)> {
    let mut longest = vec![vec![0_usize; m + 1]; n + 1];
    for i in (0..n).rev() {
        for j in (0..m).rev() {
            longest[i][j] = if same(i, j) {
                longest[i + 1][j + 1] + 1
            } else {
                longest[i + 1][j].max(longest[i][j + 1])
            };
        }
    }
    let (mut i, mut j) = (0, 0);
    let mut pairs = Vec::new();
    while i < n && j < m {
        if same(i, j) {
            pairs.push((i, j));
            i += 1;
            j += 1;
        } else if longest[i + 1][j] >= longest[i][j + 1] {
            i += 1;
        } else {
            j += 1;
        }
    }
    pairs
}

#[cfg(test)]
mod tests {
    use super::*;

    const OLD: &str = r#"// The class of Friday.
(
    format: 2, // the first
    title: "Scones",
    period: (start: "10:00", end: "11:00"),
    room: (
        // The one by the window drips.
        kit: {"sink": 5, "scales": 4},
    ),
    recipes: [(name: "scones", methods: [(name: "rubbing-in", steps: [
        (name: "weigh", minutes: 5), // with the new scales
        (name: "mix", minutes: (2, 4, 6)),
    ])])],
    groups: [
        (name: "Pair", count: 4, recipe: "scones"),
        // They came late.
        (name: "Three", pupils: 3, recipe: "scones"),
    ],
)
"#;

    fn changed(change: impl Fn(&mut LessonFile)) -> String {
        let mut file: LessonFile = read(OLD).unwrap_or_default();
        change(&mut file);
        let text = merged(OLD, &file).unwrap_or_default();
        let again: LessonFile = read(&text).unwrap_or_default();
        assert_eq!(again, file, "{text}");
        text
    }

    #[test]
    fn what_is_not_changed_stays_to_the_letter() {
        assert_eq!(changed(|_| {}), OLD);
    }

    #[test]
    fn one_field_is_changed_in_its_place() {
        let text = changed(|f| f.title = "Cheese scones".into());
        assert_eq!(text, OLD.replace("\"Scones\"", "\"Cheese scones\""));
        let text = changed(|f| f.room.kit.0[0].1.count = 6);
        assert_eq!(text, OLD.replace("\"sink\": 5", "\"sink\": 6"));
    }

    #[test]
    fn entries_come_and_go() {
        let text = changed(|f| f.groups[0].left_out = true);
        assert!(text.contains("(name: \"Pair\", count: 4, recipe: \"scones\", left_out: true),"));
        let text = changed(|f| {
            f.groups.remove(0);
        });
        assert!(text.contains("// They came late.\n        (name: \"Three\""), "{text}");
        assert!(!text.contains("Pair"));
        let text = changed(|f| f.rules.wanted_spare = Some(4));
        assert!(text.contains("    rules: (wanted_spare: 4),\n)"), "{text}");
        let text = changed(|f| f.title.clear());
        assert!(text.contains("// the first\n    period"), "{text}");
    }

    #[test]
    fn the_last_gives_way_to_another() {
        let text = changed(|f| {
            f.groups[1].pupils = None;
            f.groups[1].recipe = "scones".into();
            f.groups[1].pace = Some(1.5);
            f.groups[1].name = "Two".into();
            f.recipes[0].methods[0].steps.truncate(1);
        });
        assert!(text.contains("// They came late.\n        (name: \"Two\","), "{text}");
        let text = changed(|f| {
            f.groups.truncate(1);
            f.groups[0].count = None;
            f.groups[0].recipe = String::new();
            f.groups[0].left_out = true;
        });
        assert!(text.starts_with("// The class of Friday."), "{text}");
    }

    #[test]
    fn a_text_that_is_none_is_laid_out_anew() {
        let file = read(OLD).unwrap_or_default();
        let anew = write_lesson(&file).unwrap_or_default();
        assert_eq!(merged("(format: 2, oh", &file).unwrap_or_default(), anew);
    }
}
