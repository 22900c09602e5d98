//! The `origin` of `plot.json` as text: found, put in place and taken out, every other byte as it
//! was.

use std::borrow::Cow;
use std::ops::Range;

use plot::Origin;
use serde_json::Value;

/// The field's name.
const ORIGIN: &str = "origin";
/// What it stands behind where it is new.
const BEFORE_IT: &str = "layout";

/// `plot.json` laid open for another origin.
#[derive(Debug)]
pub(crate) struct HeadSheet<'a>(Cow<'a, [u8]>);

impl<'a> HeadSheet<'a> {
    pub(crate) fn of(bytes: &'a [u8]) -> Self {
        Self(Cow::Borrowed(bytes))
    }

    /// The text of the origin; empty where there is none.
    pub(crate) fn origin(&self) -> &str {
        text(&self.0)
    }

    /// Puts another origin in its place; an empty one takes it out.
    pub(crate) fn set_origin(&mut self, to: &str) {
        if self.origin() != to {
            self.0 = Cow::Owned(with_origin(&self.0, to));
        }
    }

    /// The file, where it is another than before.
    pub(crate) fn finish(self) -> Option<Vec<u8>> {
        match self.0 {
            Cow::Borrowed(_) => None,
            Cow::Owned(bytes) => Some(bytes),
        }
    }
}

/// The text of the origin of `plot.json`; empty where there is none.
pub(crate) fn text(head: &[u8]) -> &str {
    let found = members(head).into_iter().rfind(|one| one.name == ORIGIN);
    found.and_then(|one| std::str::from_utf8(&head[one.value]).ok()).unwrap_or_default()
}

/// `plot.json` with another text for its origin; an empty one takes the field out.
pub(crate) fn with_origin(head: &[u8], to: &str) -> Vec<u8> {
    let all = members(head);
    let mut bytes = head.to_vec();
    match all.iter().rposition(|one| one.name == ORIGIN) {
        Some(nth) if to.is_empty() => {
            let behind = all.get(nth + 1).map(|next| all[nth].key..next.key);
            bytes.drain(match nth {
                // The comma before it goes, too; that of the first stands behind it.
                0 => behind.unwrap_or(all[0].key..all[0].value.end),
                _ => all[nth - 1].value.end..all[nth].value.end,
            });
        }
        Some(nth) => _ = bytes.splice(all[nth].value.clone(), to.bytes()),
        // A file without any field is no plot.json, and stays as it is.
        None if to.is_empty() || all.is_empty() => {}
        None => {
            let at = all.iter().rposition(|one| one.name == BEFORE_IT).unwrap_or(all.len() - 1);
            let end = all[at].value.end;
            let gap = String::from_utf8_lossy(&head[all[at].gap.clone()]).into_owned();
            bytes.splice(end..end, format!(",{gap}\"{ORIGIN}\": {to}").bytes());
        }
    }
    bytes
}

/// The text of an origin that keeps whatever else stood in the text before.
pub(crate) fn saying(before: &str, origin: &Origin) -> String {
    let all = members(before.as_bytes());
    let said =
        [("lon", origin.lon), ("lat", origin.lat), ("row_bearing_deg", origin.row_bearing_deg)];
    if all.is_empty() {
        let said: Vec<String> = said.iter().map(|(name, it)| format!("\"{name}\": {it}")).collect();
        return format!("{{{}}}", said.join(", "));
    }
    let mut text = before.to_owned();
    for (name, degrees) in said {
        let all = members(text.as_bytes());
        match all.iter().rfind(|one| one.name == name) {
            // `12.0` says 12 already.
            Some(one) if text[one.value.clone()].parse() == Ok(degrees) => {}
            Some(one) => text.replace_range(one.value.clone(), &degrees.to_string()),
            None => {
                let last = &all[all.len() - 1];
                let gap = text[last.gap.clone()].to_owned();
                text.insert_str(last.value.end, &format!(",{gap}\"{name}\": {degrees}"));
            }
        }
    }
    text
}

/// What a text of an origin says; none where it is none.
pub(crate) fn said(text: &str) -> Option<Origin> {
    serde_json::from_str(text).ok()
}

/// Whether two texts say the same.
pub(crate) fn is_same(one: &str, other: &str) -> bool {
    let read = |text: &str| serde_json::from_str::<Value>(text).ok();
    one == other || read(one).is_some_and(|one| read(other) == Some(one))
}

/// A field of an object.
struct Member {
    name: String,
    /// White space before its name.
    gap: Range<usize>,
    /// Where its name begins.
    key: usize,
    value: Range<usize>,
}

/// The fields of the object that a JSON text is; none of any other text.
fn members(text: &[u8]) -> Vec<Member> {
    let mut all = Vec::new();
    let mut at = match text.iter().position(|byte| *byte == b'{') {
        Some(at) => at + 1,
        None => return all,
    };
    loop {
        let gap = at..skipped(text, at);
        let key = gap.end;
        let Some(end) = value_end(text, key).filter(|_| text.get(key) == Some(&b'"')) else {
            return all;
        };
        let colon = skipped(text, end);
        let from = skipped(text, colon + 1);
        let (Ok(name), Some(to)) = (serde_json::from_slice(&text[key..end]), value_end(text, from))
        else {
            return all;
        };
        all.push(Member { name, gap, key, value: from..to });
        let comma = skipped(text, to);
        if text.get(comma) != Some(&b',') {
            return all;
        }
        at = comma + 1;
    }
}

fn skipped(text: &[u8], from: usize) -> usize {
    let rest = text.get(from..).unwrap_or_default();
    from + rest.iter().take_while(|byte| byte.is_ascii_whitespace()).count()
}

/// Where a value of a sound text ends.
fn value_end(text: &[u8], from: usize) -> Option<usize> {
    let (mut at, mut depth, mut in_string) = (from, 0_usize, false);
    while let Some(byte) = text.get(at) {
        match byte {
            b'\\' if in_string => at += 1,
            b'"' => {
                in_string = !in_string;
                if !in_string && depth == 0 {
                    return Some(at + 1);
                }
            }
            _ if in_string => {}
            b'{' | b'[' => depth += 1,
            b'}' | b']' if depth > 1 => depth -= 1,
            b'}' | b']' if depth == 1 => return Some(at + 1),
            b'}' | b']' | b',' | b' ' | b'\t' | b'\r' | b'\n' if depth == 0 => {
                return (at > from).then_some(at);
            }
            _ => {}
        }
        at += 1;
    }
    None
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const WEST: Origin = Origin { lon: -30.25, lat: 45.0, row_bearing_deg: 12.5 };

    /// Sets an origin where there may be none, and brings back what was there.
    fn check(head: &str, before: &str, after: &str) {
        assert_eq!(text(head.as_bytes()), before);
        let to = saying(before, &WEST);
        let with = with_origin(head.as_bytes(), &to);
        assert_eq!(String::from_utf8_lossy(&with), after);
        assert_eq!(said(text(&with)), Some(WEST));
        assert_eq!(String::from_utf8_lossy(&with_origin(&with, before)), head, "and back");
    }

    #[test]
    fn only_the_origin_changes_and_comes_back_byte_for_byte() {
        let new = r#"{"lon": -30.25, "lat": 45, "row_bearing_deg": 12.5}"#;
        check(
            r#"{"layout":{"a":[1,{"b":"}\""}]},"x":1}"#,
            "",
            &format!(r#"{{"layout":{{"a":[1,{{"b":"}}\""}}]}},"origin": {new},"x":1}}"#),
        );
        check(
            "\u{feff}{\r\n  \"layout\": {},\r\n  \"own\": 1.50\r\n}\r\n",
            "",
            &format!(
                "\u{feff}{{\r\n  \"layout\": {{}},\r\n  \"origin\": {new},\r\n  \"own\": 1.50\r\n}}\r\n"
            ),
        );
        check(
            r#"{"origin": {"lat" : 45.00, "height_m": 3, "lon":5}, "layout": {}}"#,
            r#"{"lat" : 45.00, "height_m": 3, "lon":5}"#,
            r#"{"origin": {"lat" : 45.00, "height_m": 3, "lon":-30.25, "row_bearing_deg": 12.5}, "layout": {}}"#,
        );
        check(
            r#"{"layout": {}, "origin": null }"#,
            "null",
            &format!(r#"{{"layout": {{}}, "origin": {new} }}"#),
        );
        // The first, the last and the only one are taken out with their comma.
        for (head, bare) in [
            (r#"{"origin": 1, "a": 2}"#, r#"{"a": 2}"#),
            (r#"{"a": 2, "origin": 1}"#, r#"{"a": 2}"#),
            (r#"{ "origin": 1 }"#, "{  }"),
        ] {
            assert_eq!(with_origin(head.as_bytes(), ""), bare.as_bytes());
        }
        assert!(is_same("{\"a\": 1.0}", "{ \"a\":1.0 }") && !is_same("", "{}"));
    }

    proptest! {
        #[test]
        fn no_bytes_make_it_panic(any in proptest::collection::vec(any::<u8>(), 0..80), text in "[{}\\[\\]\",:a1 \\\\]{0,60}") {
            members(&any);
            members(text.as_bytes());
            saying(&text, &WEST);
        }
    }
}
