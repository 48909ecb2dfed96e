//! Tests: what colours tell is told to those who do not see red or green as
//! others do, and never by colour alone.

use std::collections::BTreeSet;

use eframe::egui::Color32;

use crate::app::looks::paint::{colours, pattern};
use crate::app::looks::palettes::rgb;
use crate::app::looks::theme::Palette;
use crate::view::board::Work;

type Three = [f64; 3];
type Matrix = [Three; 3];

/// Machado, Oliveira and Fernandes, "A Physiologically-based Model for
/// Simulation of Color Vision Deficiency", IEEE Transactions on Visualization
/// and Computer Graphics 15 (6), 2009: table for severity 1.0, on linear sRGB.
const PROTANOPIA: Matrix = [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
];

/// The same for those without green.
const DEUTERANOPIA: Matrix = [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.011820, 0.042940, 0.968881],
];

/// Eyes as most have them.
const USUAL: Matrix = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];

const EYES: [(&str, &Matrix); 3] =
    [("usual", &USUAL), ("protanopia", &PROTANOPIA), ("deuteranopia", &DEUTERANOPIA)];

/// Colours next to each other are told apart from about 2.3 (Mahy, Van Eycken
/// and Oosterlinck, "Evaluation of uniform color spaces developed after the
/// adoption of CIELAB and CIELUV", Color Research and Application 19, 1994).
/// Bars stand apart on a board, so four times that is asked for.
const APART: f64 = 4.0 * 2.3;

const WORKS: [Work; 6] = [Work::Bench, Work::Door, Work::Bake, Work::Cool, Work::Wait, Work::Clear];

/// IEC 61966-2-1 (sRGB).
fn linear(colour: Color32) -> Three {
    [colour.r(), colour.g(), colour.b()].map(|part| {
        let part = f64::from(part) / 255.0;
        if part <= 0.04045 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
    })
}

fn seen(colour: Color32, eye: &Matrix) -> Three {
    let light = linear(colour);
    let part = |row: &Three| row.iter().zip(light).map(|(a, b)| a * b).sum::<f64>();
    [part(&eye[0]), part(&eye[1]), part(&eye[2])].map(|p| p.clamp(0.0, 1.0))
}

/// CIE 1976 L*a*b* under D65 (CIE 15:2004; the matrix is that of IEC
/// 61966-2-1).
fn lab([r, g, b]: Three) -> Three {
    let x = 0.4124 * r + 0.3576 * g + 0.1805 * b;
    let y = 0.2126 * r + 0.7152 * g + 0.0722 * b;
    let z = 0.0193 * r + 0.1192 * g + 0.9505 * b;
    let f = |t: f64| {
        if t > 216.0 / 24389.0 { t.cbrt() } else { (24389.0 / 27.0 * t + 16.0) / 116.0 }
    };
    let (x, y, z) = (f(x / 0.9505), f(y), f(z / 1.089));
    [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
}

/// ΔE*ab of 1976.
fn apart(a: Color32, b: Color32, eye: &Matrix) -> f64 {
    let (a, b) = (lab(seen(a, eye)), lab(seen(b, eye)));
    a.iter().zip(b).map(|(a, b)| (a - b).powi(2)).sum::<f64>().sqrt()
}

#[test]
fn greys_stay_grey_and_red_and_green_come_close() {
    for (eye, matrix) in EYES {
        for row in matrix {
            let sum: f64 = row.iter().sum();
            assert!((sum - 1.0).abs() < 2e-6, "{eye}: a row comes to {sum}");
        }
        for grey in [0x000000, 0x404040, 0x9A9A9A, 0xFFFFFF] {
            assert!(apart(rgb(grey), rgb(grey), matrix) < 1e-9);
            let [_, a, b] = lab(seen(rgb(grey), matrix));
            assert!(a.abs() < 0.1 && b.abs() < 0.1, "{eye}: {grey:x} is no grey");
        }
    }
    // A red and a green that the usual eye tells apart at once.
    let (red, green) = (rgb(0xB56A55), rgb(0x7E8A55));
    assert!(apart(red, green, &USUAL) > 35.0);
    assert!(apart(red, green, &DEUTERANOPIA) < 15.0);
    // Blue and yellow are left apart.
    for (_, eye) in EYES {
        assert!(apart(rgb(0x2040C0), rgb(0xE0C040), eye) > 80.0);
    }
}

#[test]
fn differences_of_colour_are_those_of_the_standard() {
    // White, and sRGB's own red, as published for CIELAB under D65.
    let near = |a: Three, b: Three| a.iter().zip(b).all(|(a, b)| (a - b).abs() < 0.15);
    assert!(near(lab(linear(Color32::WHITE)), [100.0, 0.0, 0.0]));
    assert!(near(lab(linear(rgb(0xFF0000))), [53.24, 80.09, 67.20]));
    assert!((apart(Color32::BLACK, Color32::WHITE, &USUAL) - 100.0).abs() < 0.1);
}

#[test]
fn each_kind_of_work_has_a_pattern_of_its_own() {
    let patterns: BTreeSet<_> = WORKS.map(pattern).into();
    assert_eq!(patterns.len(), WORKS.len());
}

#[test]
fn kinds_of_work_differ_in_fill_or_edge_to_every_eye() {
    for (name, palette) in Palette::ALL {
        for (eye, matrix) in EYES {
            for (i, &one) in WORKS.iter().enumerate() {
                for &other in &WORKS[..i] {
                    let (a, b) = (colours(one, palette), colours(other, palette));
                    let far = apart(a.0, b.0, matrix).max(apart(a.1, b.1, matrix));
                    assert!(far >= APART, "{name}, {eye}: {one:?} and {other:?} by {far:.1}");
                }
            }
        }
    }
}

#[test]
fn red_focus_and_heat_differ_from_what_is_near_them_to_every_eye() {
    for (name, p) in Palette::ALL {
        let pairs = [
            ("red and ink", p.red, p.ink),
            ("red and soft", p.red, p.soft),
            ("red and heat", p.red, p.heat),
            ("focus and edge", p.focus, p.edge),
            ("focus and ink", p.focus, p.ink),
        ];
        for (pair, a, b) in pairs {
            for (eye, matrix) in EYES {
                let far = apart(a, b, matrix);
                assert!(far >= APART, "{name}, {eye}: {pair} by {far:.1}");
            }
        }
    }
}
