// Package page shows the sit-down mode in a browser: the same machine as the terminal's (package follow),
// laid out as one page of plain forms. A short script of its own adds keys, live changes, sounds and
// reading aloud; nothing depends on it.
//
// Who may come in. A page is opened with a key that the program prints (128 bits, good for one device). The
// first page only offers to send it, so that a preview of the link spends nothing; sent, it is exchanged for
// a cookie, and the address forgets it. A request counts only under an address the server was given (no
// foreign name can lead to it), and a press only from its own page (Origin). Wrong keys are slowed down
// address by address. The page loads nothing but itself, and its policy lets it do nothing else.
//
// What a press is. Each has a number of its own, kept with what it logged (session.Pressed): one that is
// sent again, by a browser, a script, or after the program was killed and started anew, counts once.
//
// What is kept. The hashes of cookies, and catches told and not logged yet, in a file beside the store, so
// that open pages go on after a crash; an end that was asked for removes it.
//
// One lock holds all: sittings, keys and the store behind them are used by one request at a time.
package page
