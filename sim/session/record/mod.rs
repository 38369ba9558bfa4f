//! Writes a whole session down, so that it can be shown again. It looks at the world and changes nothing.

mod recorder;
mod recording;

pub use recorder::{record_session, record_session_unless};
pub use recording::{
    BaitState, FishMove, LineRecording, LooseFeedThrow, MoveReason, Recording, TackleState,
};
