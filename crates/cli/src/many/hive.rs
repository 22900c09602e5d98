//! Names of partition folders as Hive writes them: `key=value`, odd characters percent-encoded.

use std::fmt::Write as _;

/// The folder of a partition.
///
/// Encoded are the characters that Hive encodes, and what Windows forbids in names; letters beyond
/// ASCII stay as they are.
pub(super) fn partition(key: &str, value: &str) -> String {
    let mut name = format!("{key}=");
    for sign in value.chars() {
        if sign.is_ascii_control() || "\"#%'*/:=?\\{}[]^<>| ".contains(sign) {
            _ = write!(name, "%{:02X}", u32::from(sign));
        } else {
            name.push(sign);
        }
    }
    name
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn odd_characters_are_encoded_and_others_are_not() {
        let check = |name: &str, folder: &str| assert_eq!(partition("plot", name), folder);
        check("Withy-Corner_2.b", "plot=Withy-Corner_2.b");
        check("../a=b/c", "plot=..%2Fa%3Db%2Fc");
        check("50 % \"é\"\t", "plot=50%20%25%20%22é%22%09");
        check("x: [1]^{2}", "plot=x%3A%20%5B1%5D%5E%7B2%7D");
    }
}
