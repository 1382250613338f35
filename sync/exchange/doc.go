// Package exchange is the errand between two registers that never meet: what one holds (heads), what the other lacks (since), files for a stick,
// and taking them in. Writing a stick changes nothing that is remembered of anybody: what the other side holds is known only by its own signed word, so a lost
// stick mends itself with the next one.
//
// Storage is seen through Log. Verdicts are codes with counts; the catalogue has the words.
package exchange
