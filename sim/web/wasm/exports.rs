//! The model as functions that JavaScript calls: text in, text out, through one buffer.
//!
//! A request is three parts, each but the last followed by a line feed: its name, its query and its body.

use std::sync::{Mutex, MutexGuard, PoisonError};

use sim::web::PageModel;

/// The request, and then the answer to it.
static BUFFER: Mutex<Vec<u8>> = Mutex::new(Vec::new());
/// The model of this worker.
static MODEL: Mutex<Option<PageModel>> = Mutex::new(None);

fn lock<T>(of: &Mutex<T>) -> MutexGuard<'_, T> {
    of.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Makes room for a request of so many bytes, and returns where it is to be written.
#[unsafe(no_mangle)]
pub extern "C" fn room(bytes: usize) -> *mut u8 {
    let mut buffer = lock(&BUFFER);
    buffer.clear();
    buffer.resize(bytes, 0);
    buffer.as_mut_ptr()
}

/// Answers the request; returns 1 if all is well and 0 if the answer says what is wrong.
///
/// The request `open` takes the list of scenarios as its body and has to come first.
#[unsafe(no_mangle)]
pub extern "C" fn answer() -> u32 {
    let request = String::from_utf8_lossy(&std::mem::take(&mut *lock(&BUFFER))).into_owned();
    let mut parts = request.splitn(3, '\n');
    let mut part = || parts.next().unwrap_or_default();
    let (name, query, body) = (part(), part(), part());
    let mut model = lock(&MODEL);
    if name == "open" {
        *model = Some(PageModel::new(body));
        return 1;
    }
    let answered = model.get_or_insert_with(|| PageModel::new("[]")).answer(name, query, body);
    let is_well = answered.is_ok();
    *lock(&BUFFER) = answered.unwrap_or_else(|wrong| wrong);
    u32::from(is_well)
}

/// Where the answer is.
#[unsafe(no_mangle)]
pub extern "C" fn answer_at() -> *const u8 {
    lock(&BUFFER).as_ptr()
}

/// Length of the answer [bytes].
#[unsafe(no_mangle)]
pub extern "C" fn answer_bytes() -> usize {
    lock(&BUFFER).len()
}
