//! The desk: the whole job on one page of this machine alone. Requests come in; the same calls
//! as the command line's go out, and their results as JSON, drawings and files. No arithmetic.

mod wire;
