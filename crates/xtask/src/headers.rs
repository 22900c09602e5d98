//! The headers that every file of the page is sent with, the content-security policy among them.

/// What the page and its workers may do: the page states it of itself as well.
pub(crate) const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; \
     style-src 'self'; img-src 'self' blob: data:; connect-src 'self'; worker-src 'self'; \
     manifest-src 'self'; base-uri 'none'; form-action 'none'; \
     require-trusted-types-for 'script'; trusted-types default";

/// What only a header can say: that no other page may show this one in a frame.
const NO_FRAME: &str = "; frame-ancestors 'none'";

/// What of the machine the page may ask for, and what nobody may through it.
const PERMISSIONS: &str = "camera=(self), geolocation=(self), accelerometer=(self), \
     gyroscope=(self), magnetometer=(self), screen-wake-lock=(self), microphone=(), \
     display-capture=(), payment=(), usb=(), serial=(), midi=()";

/// Names and values, the same for every file.
pub(crate) fn headers() -> [(&'static str, String); 6] {
    [
        ("content-security-policy", format!("{POLICY}{NO_FRAME}")),
        ("permissions-policy", PERMISSIONS.to_owned()),
        ("x-content-type-options", "nosniff".to_owned()),
        ("referrer-policy", "no-referrer".to_owned()),
        ("cross-origin-opener-policy", "same-origin".to_owned()),
        ("cross-origin-resource-policy", "same-origin".to_owned()),
    ]
}

#[cfg(test)]
mod tests {
    use super::headers;
    use crate::shell::top;

    #[test]
    fn docs_tell_a_host_every_header_as_it_is_sent() {
        let docs = std::fs::read_to_string(top().join("docs/security.md")).unwrap();
        for (name, value) in headers() {
            assert!(docs.contains(&format!("{name}: {value}\n")), "{name}: {value}");
        }
    }
}
