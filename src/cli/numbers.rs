//! Numbers among the arguments; of one that is none, what is wanted and an example.

use std::fmt::Display;
use std::str::FromStr;
use std::time::Duration;

/// Reads a whole number of something, from the least to the most there may be; no more
/// than its type holds if nothing is said.
pub(super) fn whole<T>(
    what: &'static str,
    (least, most): (T, Option<T>),
    example: T,
) -> impl Fn(&str) -> Result<T, String> + Clone + Send + Sync + 'static
where
    T: FromStr + PartialOrd + Display + Copy + Send + Sync + 'static,
{
    move |text| {
        let number = text.trim().parse().ok();
        let number = number.filter(|n| *n >= least && most.is_none_or(|most| *n <= most));
        number.ok_or_else(|| {
            let range = match most {
                Some(most) => format!("from {least} to {most}"),
                None => format!("of {least} or more"),
            };
            format!("{what} are a whole number {range}, such as {example}")
        })
    }
}

/// Reads how many plans are to be built.
pub(super) fn plans(text: &str) -> Result<u64, String> {
    whole("plans", (1, None), 5000)(text)
}

/// Reads where chance begins.
pub(super) fn seed(text: &str) -> Result<u64, String> {
    let number = text.trim().parse().ok();
    number.ok_or_else(|| "chance begins at a whole number of 0 or more, such as 7".to_owned())
}

/// Reads how many sets of a recipe are wanted besides.
pub(super) fn sets(text: &str) -> Result<u32, String> {
    whole("sets", (0, Some(99)), 2)(text)
}

/// Reads a number of seconds.
pub(super) fn seconds(text: &str) -> Result<Duration, String> {
    text.trim()
        .parse::<f64>()
        .ok()
        .and_then(|s| Duration::try_from_secs_f64(s).ok())
        .ok_or_else(|| "seconds are a number of 0 or more, such as 2.5".to_owned())
}

/// Reads a figure of any size; the layer that works with it says what can be.
pub(super) fn figure(
    what: &'static str,
    example: &'static str,
) -> impl Fn(&str) -> Result<f64, String> + Clone + Send + Sync + 'static {
    move |text| {
        let number = text.trim().parse::<f64>().ok();
        number.ok_or_else(|| format!("{what} is a number, such as {example}"))
    }
}
