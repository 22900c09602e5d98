//! A static server for this machine alone, with the headers that the page is meant to run under.

use std::fs;
use std::net::Ipv4Addr;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

use anyhow::{Context, Result};
use axum::Router;
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, Uri, header};
use axum::response::{IntoResponse as _, Response};

use crate::build;
use crate::bundle::{is_page, packed_name};
use crate::headers::headers;

/// How to serve.
#[derive(clap::Args, Clone, Debug)]
pub(crate) struct Serving {
    /// Port on this machine; 0 takes a free one.
    #[arg(long, default_value_t = 8080)]
    port: u16,
    /// Serve what was built before.
    #[arg(long)]
    no_build: bool,
    #[command(flatten)]
    build: build::Building,
}

/// Builds and serves until it is stopped.
///
/// # Errors
/// The build fails, or the port is taken.
#[expect(clippy::print_stdout, reason = "the address is the answer")]
pub(crate) fn serve(options: &Serving) -> Result<()> {
    let dist = if options.no_build {
        crate::shell::target_dir().join("dist")
    } else {
        build::build(&options.build)?
    };
    let site = Arc::new(Site { dist });
    let app = Router::new().fallback(move |method, address, headers| {
        let site = site.clone();
        async move { site.answer(&method, &address, &headers) }
    });
    tokio::runtime::Builder::new_current_thread().enable_io().build()?.block_on(async {
        let listener = tokio::net::TcpListener::bind((Ipv4Addr::LOCALHOST, options.port))
            .await
            .with_context(|| format!("cannot listen on port {}", options.port))?;
        println!("http://localhost:{}/", listener.local_addr()?.port());
        Ok(axum::serve(listener, app).await?)
    })
}

/// What is served.
struct Site {
    dist: PathBuf,
}

impl Site {
    fn answer(&self, method: &Method, address: &Uri, headers: &HeaderMap) -> Response {
        let file = match *method {
            Method::GET | Method::HEAD => file_of(&self.dist, address.path()),
            _ => None,
        };
        let read = file.and_then(|file| Some((fs::read(&file).ok()?, file)));
        let Some((mut bytes, file)) = read else {
            let words = "Not found.".to_owned().into_bytes();
            return answered(
                StatusCode::NOT_FOUND,
                "text/plain; charset=utf-8",
                words,
                false,
                None,
            );
        };
        let name = file.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let accepts = headers.get(header::ACCEPT_ENCODING).and_then(|value| value.to_str().ok());
        let mut packing = None;
        if accepts.is_some_and(|accepts| accepts.contains("br"))
            && let Ok(packed) = fs::read(packed_name(&file))
        {
            (bytes, packing) = (packed, Some("br"));
        }
        let forever = !is_page(&name) && name != "service-worker.js";
        answered(StatusCode::OK, kind_of(&name), bytes, forever, packing)
    }
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
        "webp" => "image/webp",
        "zip" => "application/zip",
        _ => "application/octet-stream",
    }
}

fn answered(
    status: StatusCode,
    kind: &'static str,
    bytes: Vec<u8>,
    forever: bool,
    packing: Option<&'static str>,
) -> Response {
    let caching = if forever { "public, max-age=31536000, immutable" } else { "no-cache" };
    let own = [("content-type", kind), ("cache-control", caching)];
    let mut answer = (status, own, bytes).into_response();
    for (name, value) in headers() {
        let value = HeaderValue::try_from(value).expect("policies are ASCII");
        answer.headers_mut().insert(name, value);
    }
    if let Some(packing) = packing {
        answer.headers_mut().insert(header::CONTENT_ENCODING, HeaderValue::from_static(packing));
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
