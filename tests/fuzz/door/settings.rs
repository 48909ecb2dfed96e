//! The window's settings.

use ovenbell::app::Prefs;

use crate::input::Input;

/// Whatever they say, there are settings, within their bounds and kept as they are.
/// Those that cannot be read are the usual ones.
pub fn is_accepted(input: &Input<'_>) -> bool {
    let path = input.written("window.ron");
    let folder = || path.parent().map(Into::into);
    let prefs = Prefs::load(folder());
    assert!((Prefs::TEXT.0..=Prefs::TEXT.1).contains(&prefs.text));
    let usual = Prefs { kept_in: Some(path.clone()), ..Prefs::default() };
    if prefs == usual {
        return false;
    }
    if input.is_one_in(16) {
        let mut larger = prefs.clone();
        larger.resize(i32::MAX);
        larger.resize(i32::MIN);
        prefs.keep();
        assert_eq!(Prefs::load(folder()), prefs);
    }
    true
}
