//! Saved web pages: the blocks of JSON-LD in them, and texts freed of markup.

use std::borrow::Cow;

use html5gum::{DefaultEmitter, Token, Tokenizer};

/// What a block's `type` begins with.
const JSON_LD: &str = "application/ld+json";
/// Elements after and before which a new line begins.
const BLOCKS: [&[u8]; 15] = [
    b"p", b"br", b"li", b"ol", b"ul", b"div", b"tr", b"h1", b"h2", b"h3", b"h4", b"h5", b"h6",
    b"section", b"article",
];

/// The blocks of JSON-LD of a page, in their order.
pub(super) fn blocks(page: &str) -> Vec<String> {
    let mut emitter = DefaultEmitter::default();
    // A script's text is no markup.
    emitter.naively_switch_states(true);
    let mut blocks = Vec::new();
    let mut open: Option<String> = None;
    for token in Tokenizer::new_with_emitter(page, emitter).filter_map(Result::ok) {
        match token {
            Token::StartTag(tag) if tag.name.as_slice() == b"script" => {
                let kind = tag.attributes.get(b"type".as_slice());
                let kind = kind.map(|k| String::from_utf8_lossy(k).trim().to_lowercase());
                open = kind.filter(|k| k.starts_with(JSON_LD)).map(|_| String::new());
            }
            Token::String(text) => {
                if let Some(block) = &mut open {
                    block.push_str(&String::from_utf8_lossy(&text));
                }
            }
            Token::EndTag(tag) if tag.name.as_slice() == b"script" => blocks.extend(open.take()),
            _ => {}
        }
    }
    // A page that was cut off ends inside its block.
    blocks.extend(open);
    blocks
}

/// A text without markup, its entities read; a new line where a block ends.
pub(super) fn plain(text: &str) -> Cow<'_, str> {
    if !text.contains(['<', '&']) {
        return Cow::Borrowed(text);
    }
    let once = without_markup(text);
    // Some pages escape twice: `&amp;frac12;`.
    let twice = once.split('&').skip(1).any(|after| {
        let name = after.split(';').next().unwrap_or_default();
        name.len() < after.len() && (2..9).contains(&name.len()) && !name.contains(' ')
    });
    Cow::Owned(if twice { without_markup(&once) } else { once })
}

fn without_markup(text: &str) -> String {
    let mut plain = String::new();
    for token in Tokenizer::new(text).filter_map(Result::ok) {
        let name = match token {
            Token::String(text) => {
                plain.push_str(&String::from_utf8_lossy(&text));
                continue;
            }
            Token::StartTag(tag) => tag.name,
            Token::EndTag(tag) => tag.name,
            _ => continue,
        };
        if BLOCKS.contains(&name.as_slice()) {
            plain.push('\n');
        }
    }
    plain
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blocks_are_found_whatever_is_around_them() {
        let page = "<!doctype html><title>Buns & more</title>\
            <SCRIPT TYPE='application/ld+json; charset=utf-8'>{\"a\": \"<b>1 < 2</b>\"}</SCRIPT>\
            <script>var x = '<script type=\"application/ld+json\">';</script>\
            <!-- <script type=\"application/ld+json\">no</script> -->\
            <script type=\"application/ld+json\" class=x>[2]";
        assert_eq!(blocks(page), ["{\"a\": \"<b>1 < 2</b>\"}", "[2]"]);
        assert!(blocks("<p>Nothing").is_empty());
    }

    #[test]
    fn markup_and_entities_go() {
        assert_eq!(plain("&frac12; tsp <b>salt</b>"), "½ tsp salt");
        assert_eq!(plain("&amp;frac12; tsp&nbsp;salt"), "½ tsp\u{a0}salt");
        assert_eq!(plain("Salt &amp; pepper; to taste"), "Salt & pepper; to taste");
        assert_eq!(plain("<p>Mix.</p><p>Bake.<br>Cool."), "\nMix.\n\nBake.\nCool.");
        assert_eq!(plain("plain"), "plain");
    }
}
