//! Pages that tell their recipes in the markup itself, as microdata (the HTML
//! standard of the WHATWG, section *Microdata*): `itemscope`, `itemtype`, `itemprop`.
//!
//! Each item becomes what the same recipe would be in JSON-LD, so that all else reads
//! both alike. What `itemref` points to is not gone after.

use html5gum::{DefaultEmitter, StartTag, Token, Tokenizer};
use serde_json::{Map, Value};

use super::nodes::Node;

/// Elements within elements beyond this are not looked into.
const DEEPEST: usize = 256;
/// Properties within properties beyond this are not read: their words would be
/// taken over and over.
const MOST_OPEN: usize = 4;

/// Elements without an end.
const VOID: [&[u8]; 14] = [
    b"area", b"base", b"br", b"col", b"embed", b"hr", b"img", b"input", b"link", b"meta", b"param",
    b"source", b"track", b"wbr",
];
/// Elements at whose ends a new line begins.
const LINES: [&[u8]; 5] = [b"br", b"li", b"p", b"tr", b"dd"];
/// Elements that are no words of the page.
const UNSEEN: [&[u8]; 4] = [b"script", b"style", b"template", b"noscript"];
/// Elements that end where the next such one begins, and what they lie in.
const ENDS_BEFORE: [(&[u8], &[&[u8]]); 5] = [
    (b"li", &[b"ul", b"ol"]),
    (b"dd", &[b"dl"]),
    (b"dt", &[b"dl"]),
    (b"tr", &[b"table"]),
    (b"td", &[b"tr", b"table"]),
];
/// Properties that are words, whatever element carries them.
const WORDS: [&str; 5] = ["name", "recipeIngredient", "ingredients", "recipeInstructions", "text"];

/// An element that is open.
#[derive(Default)]
struct Open {
    tag: Vec<u8>,
    /// The item it is.
    item: Option<Node>,
    /// The properties it is of the item around it.
    properties: Vec<String>,
    /// Its value, where an attribute has it.
    value: Option<String>,
    /// Its words so far, if they are its value.
    words: Option<String>,
}

/// The items of a page that belong to no other, in their order.
pub(super) fn items(page: &str) -> Vec<Value> {
    if !page.contains("itemscope") {
        return Vec::new();
    }
    let mut emitter = DefaultEmitter::default();
    // A script's text is no markup.
    emitter.naively_switch_states(true);
    let mut reader = Reader::default();
    for token in Tokenizer::new_with_emitter(page, emitter).filter_map(Result::ok) {
        match token {
            Token::StartTag(tag) => reader.begin(&tag),
            Token::EndTag(tag) => reader.end(&tag.name),
            Token::String(text) => reader.words(&String::from_utf8_lossy(&text)),
            _ => {}
        }
    }
    // A page that was cut off ends inside its items.
    reader.close_from(0);
    reader.items
}

#[derive(Default)]
struct Reader {
    open: Vec<Open>,
    /// Elements that are open beyond the deepest.
    beyond: usize,
    items: Vec<Value>,
}

impl Reader {
    fn begin(&mut self, tag: &StartTag<()>) {
        let name = tag.name.as_slice();
        if LINES.contains(&name) {
            self.new_line();
        }
        let is_void = VOID.contains(&name);
        if self.beyond > 0 || self.open.len() >= DEEPEST {
            self.beyond += usize::from(!is_void);
            return;
        }
        if let Some((_, within)) = ENDS_BEFORE.iter().find(|(of, _)| *of == name) {
            let inside = self.open.iter().rposition(|o| within.contains(&o.tag.as_slice()));
            let inside = inside.map_or(0, |at| at + 1);
            let same = self.open.iter().skip(inside).position(|o| o.tag == name);
            if let Some(at) = same {
                self.close_from(inside + at);
            }
        }
        let reads = self.open.iter().filter(|o| o.words.is_some()).count() < MOST_OPEN;
        self.open.push(opened(tag, reads));
        if is_void {
            self.close_from(self.open.len() - 1);
        }
    }

    fn end(&mut self, name: &[u8]) {
        if self.beyond > 0 {
            self.beyond -= 1;
            return;
        }
        if let Some(at) = self.open.iter().rposition(|o| o.tag == name) {
            self.close_from(at);
        }
        if LINES.contains(&name) {
            self.new_line();
        }
    }

    /// Words are seen in one line, however the page's text is broken.
    fn words(&mut self, text: &str) {
        if self.open.last().is_some_and(|o| UNSEEN.contains(&o.tag.as_slice())) {
            return;
        }
        for words in self.open.iter_mut().filter_map(|o| o.words.as_mut()) {
            words.extend(text.chars().map(|c| if c.is_ascii_whitespace() { ' ' } else { c }));
        }
    }

    fn new_line(&mut self) {
        self.open.iter_mut().filter_map(|o| o.words.as_mut()).for_each(|words| words.push('\n'));
    }

    /// Closes this element and all in it, the inmost first.
    fn close_from(&mut self, at: usize) {
        while self.open.len() > at
            && let Some(Open { item, properties, value, words, .. }) = self.open.pop()
        {
            let is_item = item.is_some();
            let value = match (item, value.or(words)) {
                (Some(item), _) => Value::Object(item),
                (None, Some(text)) => Value::String(text.trim().to_owned()),
                (None, None) => continue,
            };
            let around = self.open.iter_mut().rev().find_map(|o| o.item.as_mut());
            match around.filter(|_| !properties.is_empty()) {
                Some(around) => {
                    for property in properties {
                        add(around, property, value.clone());
                    }
                }
                None if is_item => self.items.push(value),
                None => {}
            }
        }
    }
}

/// A property may be said several times.
fn add(item: &mut Node, property: String, value: Value) {
    match item.get_mut(&property) {
        None => {
            item.insert(property, value);
        }
        Some(Value::Array(all)) => all.push(value),
        Some(one) => *one = Value::Array(vec![one.take(), value]),
    }
}

/// An element as it opens; its properties are read only if `reads`.
fn opened(tag: &StartTag<()>, reads: bool) -> Open {
    let of = |name: &str| {
        let value = tag.attributes.get(name.as_bytes())?;
        Some(String::from_utf8_lossy(value).trim().to_owned())
    };
    let item = of("itemscope").map(|_| {
        let mut item = Map::new();
        let kinds = of("itemtype").unwrap_or_default();
        let kinds: Vec<Value> = kinds.split_whitespace().map(Value::from).collect();
        item.insert("@type".to_owned(), Value::Array(kinds));
        if let Some(id) = of("itemid") {
            item.insert("@id".to_owned(), Value::String(id));
        }
        item
    });
    let properties = of("itemprop").filter(|_| reads || item.is_some()).unwrap_or_default();
    let properties: Vec<String> = properties.split_whitespace().map(str::to_owned).collect();
    let is_said = |at: &str| of(at).filter(|_| item.is_none() && !properties.is_empty());
    let value = match tag.name.as_slice() {
        b"meta" => is_said("content"),
        b"data" | b"meter" => is_said("value"),
        b"time" => is_said("datetime"),
        b"object" => is_said("data"),
        b"audio" | b"embed" | b"iframe" | b"img" | b"source" | b"track" | b"video" => {
            is_said("src")
        }
        b"a" | b"area" | b"link" if !properties.iter().any(|p| WORDS.contains(&p.as_str())) => {
            is_said("href")
        }
        // Not of the standard, but pages say minutes so: `<span content="PT25M">`.
        _ => is_said("content"),
    };
    let words = (item.is_none() && value.is_none() && !properties.is_empty()).then(String::new);
    Open { tag: tag.name.to_vec(), item, properties, value, words }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn an_item_is_read_whatever_its_page_leaves_out() {
        let page = "<!doctype html><body>\
            <div itemscope itemtype='https://schema.org/Recipe'>\
            <h1 itemprop=name>Pier\n   <em>buns</em></h1>\
            <meta itemprop=prepTime content=PT20M><img itemprop=image src=a.jpg>\
            <time itemprop=cookTime datetime=PT14M>a quarter</time>\
            <div itemprop=author itemscope itemtype=https://schema.org/Person>\
              <a itemprop=name href=x>K. T.</a></div>\
            <ul><li itemprop=recipeIngredient>200 g\n<b>flour</b>\
                <li itemprop=recipeIngredient>2 eggs<script>var a = '<li>';</script></ul>\
            <ol itemprop=recipeInstructions><li>Mix.<li>Bake.</ol>\
            </div><p itemprop=name>not of it</p>";
        let wanted = json!({
            "@type": ["https://schema.org/Recipe"], "name": "Pier    buns",
            "prepTime": "PT20M", "image": "a.jpg", "cookTime": "PT14M",
            "author": {"@type": ["https://schema.org/Person"], "name": "K. T."},
            "recipeIngredient": ["200 g flour", "2 eggs"],
            "recipeInstructions": "Mix.\nBake.",
        });
        let read = items(page);
        assert_eq!(read.len(), 1);
        for (field, value) in wanted.as_object().into_iter().flatten() {
            assert_eq!(read[0][field], *value, "{field}");
        }
    }

    #[test]
    fn markup_without_end_is_not_looked_into() {
        let deep = "<span itemscope itemprop=a>".repeat(20_000);
        assert_eq!(items(&deep).len(), 1);
        let words = format!("<div itemscope>{}x", "<i itemprop=b>".repeat(20_000));
        let read = items(&words);
        assert_eq!(read[0]["b"].as_array().map(Vec::len), Some(MOST_OPEN));
        assert!(items("<p>none").is_empty());
    }
}
