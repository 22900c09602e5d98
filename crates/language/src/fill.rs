//! Values put into a text.

use std::fmt::{Arguments, Write as _};

/// The text with `{name}` replaced by the value of that name, and doubled braces by one; a name
/// without a value stays as it is.
pub(crate) fn fill(text: &str, values: &[(&str, Arguments)]) -> String {
    let (mut made, mut rest) = (String::with_capacity(text.len() + 16), text);
    while let Some(at) = rest.find(['{', '}']) {
        let (before, braced) = rest.split_at(at);
        made.push_str(before);
        rest = match value_at(braced, values) {
            Some((value, after)) => {
                let _ = made.write_fmt(*value); // a String takes everything
                after
            }
            None => {
                made.push_str(&braced[..1]);
                let is_doubled = braced.starts_with("{{") || braced.starts_with("}}");
                &braced[1 + usize::from(is_doubled)..]
            }
        };
    }
    made.push_str(rest);
    made
}

/// The value that a text opens with, and the text behind it.
fn value_at<'a, 'v>(
    braced: &'a str,
    values: &'v [(&str, Arguments<'v>)],
) -> Option<(&'v Arguments<'v>, &'a str)> {
    let (name, after) = braced.strip_prefix('{')?.split_once('}')?;
    let (_, value) = values.iter().find(|(one, _)| *one == name)?;
    Some((value, after))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_go_where_the_text_has_them() {
        for (text, made) in [
            ("Row {row}, {tag}", "Row 7, {Q-1}"),
            ("{tag} in {row}: {tag}", "{Q-1} in 7: {Q-1}"),
            ("{{row}} is {row}", "{row} is 7"),
            ("{nobody} and {row", "{nobody} and {row"),
            ("}} and }", "} and }"),
            ("", ""),
        ] {
            let values = [("row", format_args!("{}", 7)), ("tag", format_args!("{{Q-1}}"))];
            assert_eq!(fill(text, &values), made, "{text}");
        }
    }
}
