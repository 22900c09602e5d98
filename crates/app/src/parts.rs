//! Small pieces of screen that several places share.
