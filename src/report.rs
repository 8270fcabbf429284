//! The JSON report that machines read: format `ansata-report`, version 1.
