// Package tally reads the tables that a group's clerk keeps on paper and types in: logs of loads,
// weighings of a rack, tallies of what was cut, the stock of a day. It is shared by all commands
// that read such a table.
//
// It takes what can be read in one way only, and refuses the rest with file, line, column, what
// was found and what is allowed ([Fault]). No cell is ever guessed:
//
//   - cells are parted by commas, semicolons or tabs, as the header is; columns stand in any order
//     and are known by their names, in capitals or small letters; a column that the form does
//     not know is refused, but for remarks;
//   - the decimal mark is a point or a comma, one in the whole file; a mark before three digits,
//     which may part thousands, is refused unless other cells show it to be the decimal mark;
//   - dates are written 2026-06-14, or with the year last in one order throughout; a file of such
//     dates in which no day is beyond the 12th does not tell its order and is refused, and so is
//     one that shows both orders; days with points, 14.6.2026, come before their month;
//   - each line has as many cells as the header, and stands once;
//   - an empty cell, "-", "?" and "n/a" hold nothing: never zero;
//   - empty lines and lines that start with # are passed over.
package tally
