// Package work is what a person can do: one function an act. Each checks policy
// and authority, signs an entry and has it committed before it returns. The
// window and the headless tool both stand on a Desk.
//
// A refusal is a code with arguments (Refusal); the catalogue turns it into one calm
// sentence that says what happened and what to do. Nothing typed is lost by it.
package work
