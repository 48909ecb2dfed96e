//! Long names and names written from right to left push nothing out of a small
//! window.

use egui_kittest::kittest::{NodeT, Queryable};
use ovenbell::app::{Command, Selection};
use ovenbell::model::{GroupId, OvenId};

use crate::common::hands::{Hands, How};

const HEBREW: &str = "עוגת לימון גדולה";
const ARABIC: &str = "كعكة الليمون الكبيرة";

fn demo(folder: &std::path::Path) -> std::path::PathBuf {
    let long = "W".repeat(200);
    let text = std::fs::read_to_string(
        std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron"),
    )
    .unwrap();
    let text = text
        .replace("\"Unit 1\"", &format!("\"{long}\""))
        .replace("\"Unit 2\"", &format!("\"{HEBREW}\""))
        .replace("\"Unit 3\"", &format!("\"{ARABIC}\""))
        .replace("\"lemon bake\"", &format!("\"x{long}\"").replacen('W', "", 1))
        .replace("\"whisked sponge\"", &format!("\"{ARABIC} {HEBREW}\""))
        .replace("\"20 cm square tin\"", &format!("\"{HEBREW} {}\"", "ש".repeat(150)))
        .replace("name: \"Oven\", count: 4", &format!("name: \"{}\", count: 4", "O".repeat(190)));
    let path = folder.join("odd.ron");
    std::fs::write(&path, text).unwrap();
    path
}

/// What lies outside the window to the left or right, or above or below it
/// unless it is in a scrolled list.
fn outside(hands: &Hands, size: [f32; 2]) -> Vec<String> {
    let mut outside = Vec::new();
    for node in hands.window().root().query_all_by(|_| true) {
        let inner = node.accesskit_node();
        // In pixels, which are points here.
        let Some(rect) = inner.bounding_box() else { continue };
        let name = inner.label().or_else(|| inner.value()).unwrap_or_default();
        if name.is_empty() || rect.width() <= 0.0 {
            continue;
        }
        if rect.x0 < -0.5 || rect.x1 > f64::from(size[0]) + 0.5 {
            let short: String = name.chars().take(40).collect();
            outside.push(format!("{short} at {rect:?}"));
        }
    }
    outside
}

#[test]
fn nothing_is_pushed_out_of_a_small_window() {
    // A school's laptop, and the same with everything at 150 %.
    for size in [[1092.0, 614.0], [728.0, 409.3]] {
        let mut hands = Hands::sized(How::Mouse, size, |_| {});
        // Letters of other scripts are boxes; what they are to be is room.
        let boxes = egui::epaint::text::MissingGlyphPolicy::Tofu;
        hands.window().ctx.set_missing_glyph_policy(boxes);
        let folder = tempfile::tempdir().unwrap();
        hands.open(&demo(folder.path()));
        assert!(hands.app().plan().is_some(), "{:?}", hands.heard());
        for name in [HEBREW, ARABIC, "WWWWW", "OOOOO"] {
            assert!(hands.says(name), "{name} is not said");
        }
        for selection in [
            Selection::Nothing,
            Selection::Group(GroupId(0)),
            Selection::Group(GroupId(1)),
            Selection::Group(GroupId(5)),
            Selection::Oven(OvenId(1)),
            Selection::Adults,
        ] {
            hands.apply(Command::Select(selection));
            hands.settle();
            let outside = outside(&hands, size);
            assert!(outside.is_empty(), "{selection:?} at {size:?}: {outside:#?}");
        }
        hands.apply(Command::ToggleList);
        hands.wait(2);
        let outside = outside(&hands, size);
        assert!(outside.is_empty(), "the list at {size:?}: {outside:#?}");
    }
}
