//! The addresses at which other machines reach the page, and their QR codes.

use std::net::{IpAddr, Ipv4Addr, SocketAddr, UdpSocket};

use qrcode::render::svg;
use qrcode::{EcLevel, QrCode};

use super::error::ApiError;

/// Maximum length of the part of a link after the address [bytes]; a longer one makes a code that a camera cannot read from
/// the back of a room.
const MAX_LINK_BYTES: usize = 400;
/// Least width of the picture [pixels].
const MIN_WIDTH: u32 = 240;
/// An address reserved for documentation; nothing is ever sent to it.
const ELSEWHERE: (Ipv4Addr, u16) = (Ipv4Addr::new(192, 0, 2, 1), 9);

/// The address to type on this machine or on another one.
///
/// A server that listens on every address of its machine is reached at the one by which the machine reaches others.
pub(super) fn typed_address(bound: SocketAddr) -> SocketAddr {
    if !bound.ip().is_unspecified() {
        return bound;
    }
    let own = outgoing_address().unwrap_or(IpAddr::V4(Ipv4Addr::LOCALHOST));
    SocketAddr::new(own, bound.port())
}

/// The address by which this machine reaches others. `None` without a network.
fn outgoing_address() -> Option<IpAddr> {
    // Connecting a datagram socket only chooses a route.
    let socket = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0)).ok()?;
    socket.connect(ELSEWHERE).ok()?;
    let own = socket.local_addr().ok()?.ip();
    (!own.is_loopback() && !own.is_unspecified()).then_some(own)
}

/// The address for other machines. `None` if only this machine reaches the page.
pub(super) fn public_address(bound: SocketAddr) -> Option<String> {
    let typed = typed_address(bound);
    (!typed.ip().is_loopback()).then(|| format!("http://{typed}/"))
}

/// A QR code as SVG: of the address with the part of a link that opens what is on the page now, if that is short enough.
pub(super) fn code(address: &str, link: &str) -> Result<String, ApiError> {
    let is_short = link.starts_with('#') && link.len() <= MAX_LINK_BYTES;
    let text = if is_short { format!("{address}{link}") } else { address.to_owned() };
    let code = QrCode::with_error_correction_level(text, EcLevel::L)
        .map_err(|_| ApiError::bad_request("the address is too long for a QR code"))?;
    Ok(code.render::<svg::Color<'_>>().min_dimensions(MIN_WIDTH, MIN_WIDTH).build())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn address(text: &str) -> SocketAddr {
        text.parse().expect("an address")
    }

    #[test]
    fn only_an_address_that_others_reach_is_public() {
        assert_eq!(public_address(address("127.0.0.1:8799")), None);
        assert_eq!(public_address(address("[::1]:8799")), None);
        let public = public_address(address("192.0.2.7:8799"));
        assert_eq!(public.as_deref(), Some("http://192.0.2.7:8799/"));
        let typed = typed_address(address("0.0.0.0:8799"));
        assert!(!typed.ip().is_unspecified() && typed.port() == 8799, "{typed}");
    }

    #[test]
    fn a_longer_link_makes_a_finer_code_until_it_is_left_out() {
        let modules = |link: &str| code("http://192.0.2.7:8799/", link).expect("a code").len();
        assert!(modules("#view=swim&swim=a-plan") > modules(""));
        assert_eq!(modules(&format!("#{}", "a".repeat(MAX_LINK_BYTES))), modules(""));
        assert_eq!(modules("javascript:alert(1)"), modules(""));
    }
}
