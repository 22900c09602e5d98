//! A static server for this machine alone, with the headers that the page is meant to run under.

use std::fs;
use std::net::Ipv4Addr;
use std::path::{Component, Path, PathBuf};

use anyhow::{Result, anyhow};
use tiny_http::{Header, Method, Request, Response, Server, StatusCode};

use crate::build;
use crate::bundle::gzipped;

/// The page's content-security policy.
pub(crate) const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; \
     style-src 'self'; img-src 'self' blob: data:; connect-src 'self'; worker-src 'self'; \
     manifest-src 'self'; base-uri 'none'; form-action 'none'";

/// How to serve.
#[derive(clap::Args, Clone, Debug)]
pub(crate) struct Options {
    /// Port on this machine; 0 takes a free one.
    #[arg(long, default_value_t = 8080)]
    port: u16,
    /// Serve what was built before.
    #[arg(long)]
    no_build: bool,
    #[command(flatten)]
    build: build::Options,
}

/// Builds and serves until it is stopped.
///
/// # Errors
/// The build fails, or the port is taken.
#[expect(clippy::print_stdout, reason = "the address is the answer")]
pub(crate) fn serve(options: &Options) -> Result<()> {
    let dist = if options.no_build {
        crate::shell::target_dir().join("dist")
    } else {
        build::build(&options.build)?
    };
    let server = Server::http((Ipv4Addr::LOCALHOST, options.port))
        .map_err(|error| anyhow!("cannot listen on port {}: {error}", options.port))?;
    let port = server.server_addr().to_ip().map_or(options.port, |address| address.port());
    println!("http://localhost:{port}/");
    std::thread::scope(|scope| {
        for _ in 0..4 {
            scope.spawn(|| {
                for request in server.incoming_requests() {
                    answer(request, &dist);
                }
            });
        }
    });
    Ok(())
}

fn answer(request: Request, dist: &Path) {
    let compressed = request.headers().iter().any(|header| {
        header.field.equiv("Accept-Encoding") && header.value.as_str().contains("gzip")
    });
    let path = request.url().split(['?', '#']).next().unwrap_or("/").to_owned();
    let found = match request.method() {
        Method::Get | Method::Head => file_of(dist, &path).and_then(|file| {
            let bytes = fs::read(&file).ok()?;
            Some((file, bytes))
        }),
        _ => None,
    };
    let Some((file, mut bytes)) = found else {
        let answer = Response::from_string("Not found.").with_status_code(StatusCode(404));
        let _ = request.respond(with_headers(answer, "text/plain; charset=utf-8", false, false));
        return;
    };
    let name = file.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    let kind = kind_of(&name);
    let packed = compressed && worth_packing(&name);
    if packed && let Ok(smaller) = gzipped(&bytes) {
        bytes = smaller;
    }
    let forever = name != "index.html" && name != "service-worker.js";
    let _ = request.respond(with_headers(Response::from_data(bytes), kind, packed, forever));
}

/// The file behind an address; none for anything outside of `dist`.
fn file_of(dist: &Path, path: &str) -> Option<PathBuf> {
    let path = path.trim_start_matches('/');
    let path = Path::new(if path.is_empty() { "index.html" } else { path });
    let plain = path.components().all(|part| matches!(part, Component::Normal(_)));
    let file = dist.join(path);
    (plain && file.is_file()).then_some(file)
}

fn kind_of(name: &str) -> &'static str {
    match name.rsplit('.').next().unwrap_or_default() {
        "html" => "text/html; charset=utf-8",
        "js" => "text/javascript; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "wasm" => "application/wasm",
        "json" => "application/json",
        "webmanifest" => "application/manifest+json",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "zip" => "application/zip",
        _ => "application/octet-stream",
    }
}

fn worth_packing(name: &str) -> bool {
    !matches!(name.rsplit('.').next(), Some("png" | "zip"))
}

fn with_headers<R: std::io::Read>(
    mut answer: Response<R>,
    kind: &str,
    packed: bool,
    forever: bool,
) -> Response<R> {
    let caching = if forever { "public, max-age=31536000, immutable" } else { "no-cache" };
    let mut set = vec![
        ("Content-Type", kind),
        ("Cache-Control", caching),
        ("Content-Security-Policy", POLICY),
        ("X-Content-Type-Options", "nosniff"),
        ("Referrer-Policy", "no-referrer"),
        ("Cross-Origin-Opener-Policy", "same-origin"),
        ("Cross-Origin-Resource-Policy", "same-origin"),
    ];
    if packed {
        set.push(("Content-Encoding", "gzip"));
    }
    for (name, value) in set {
        if let Ok(header) = Header::from_bytes(name, value) {
            answer.add_header(header);
        }
    }
    answer
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_outside_of_the_folder_is_served() {
        let dist = std::env::temp_dir().join(format!("serve-{}", std::process::id()));
        fs::create_dir_all(&dist).unwrap();
        fs::write(dist.join("index.html"), "page").unwrap();
        assert_eq!(file_of(&dist, "/"), Some(dist.join("index.html")));
        assert_eq!(file_of(&dist, "/index.html"), Some(dist.join("index.html")));
        for outside in ["/../Cargo.toml", "//etc/passwd", "/./../x", "/missing.js"] {
            assert_eq!(file_of(&dist, outside), None, "{outside}");
        }
        fs::remove_dir_all(&dist).unwrap();
    }
}
