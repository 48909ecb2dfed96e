//! The memory that this process asked for and has not given back.

use peak_alloc::PeakAlloc;

#[global_allocator]
static COUNTED: PeakAlloc = PeakAlloc;

/// In MB. What the allocator keeps for later does not count.
pub fn allocated_mb() -> f64 {
    COUNTED.current_usage() as f64 / 1e6
}
