//! The page for a telephone on the same network: its address with the key of one sitting, and the square code of it.

use crate::sheets::kit::Voice;
use constant_time_eq::constant_time_eq;
use maud::{Markup, html};
use qrcode::render::unicode::Dense1x2;
use qrcode::{Color, QrCode};
use std::fmt::Write;
use std::net::{Ipv4Addr, SocketAddr, UdpSocket};

/// What lets somebody in from the network for as long as the page is served.
#[derive(Debug, Clone)]
pub(super) struct Share {
    key: String,
    /// With the key in it.
    pub address: String,
}

impl Share {
    /// A key of its own for the page at `address`.
    ///
    /// # Errors
    /// Where the system gives no random bytes: in words.
    pub(super) fn at(address: SocketAddr) -> Result<Share, String> {
        let mut bytes = [0; 16];
        getrandom::fill(&mut bytes).map_err(|error| format!("no key can be made: {error}"))?;
        let mut key = String::new();
        for byte in bytes {
            // Writing to a String cannot fail.
            let _ = write!(key, "{byte:02x}");
        }
        Ok(Share { address: format!("http://{address}/?key={key}"), key })
    }

    /// Whether that is the key. How long it takes tells nothing of it.
    pub(super) fn is(&self, told: &str) -> bool {
        constant_time_eq(self.key.as_bytes(), told.as_bytes())
    }

    /// What a browser is to tell from now on.
    pub(super) fn cookie(&self) -> String {
        format!("{COOKIE}={}; HttpOnly; SameSite=Strict; Path=/", self.key)
    }

    /// The square code of the address in letters, for a terminal of light letters on a dark ground.
    pub(super) fn in_letters(&self) -> String {
        let Ok(code) = QrCode::new(&self.address) else { return String::new() };
        let render = code.render().dark_color(Dense1x2::Light).light_color(Dense1x2::Dark).build();
        render + "\n"
    }

    /// The square code of the address as a picture.
    pub(super) fn picture(&self, voice: Voice) -> Markup {
        let Ok(code) = QrCode::new(&self.address) else { return html! {} };
        let (width, mut dark) = (code.width(), String::new());
        for (index, colour) in code.to_colors().into_iter().enumerate() {
            if colour == Color::Dark {
                let (x, y) = (index % width + QUIET, index / width + QUIET);
                let _ = write!(dark, "M{x} {y}h1v1h-1z");
            }
        }
        let whole = width + 2 * QUIET;
        html! {
            svg.code viewBox={ "0 0 " (whole) " " (whole) } role="img" aria-label=(voice.word("page-code")) {
                rect width=(whole) height=(whole) fill="#fff" {}
                path d=(dark) fill="#000" {}
            }
        }
    }
}

/// What the key is called where a browser keeps it.
pub(super) const COOKIE: &str = "fillister";

/// White round the code, in its squares (ISO/IEC 18004).
const QUIET: usize = 4;

/// The address of this machine on its network.
///
/// # Errors
/// Where there is none: in words.
pub(super) fn own_address() -> Result<Ipv4Addr, String> {
    // Nothing is sent: the system only says which of its addresses it would send from. The other end is one that is kept
    // free for documents (RFC 5737).
    let asked = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0)).and_then(|socket| {
        socket.connect((Ipv4Addr::new(192, 0, 2, 1), 9))?;
        socket.local_addr()
    });
    match asked {
        Ok(SocketAddr::V4(address)) if !address.ip().is_unspecified() => Ok(*address.ip()),
        _ => Err("this machine is on no network, or its address is not known; name it with --share=ADDRESS".to_owned()),
    }
}
