// The handover sheet: what a job's records say on the day, for one of two readers, as a neutral document.
//
// The owner gets what they need beside the amplifier: what is where, which control does what, what can still be added,
// what was not traced, tested or reached, what to do when there is no sound. The technician gets everything a next
// visit needs: schedules in feed order, line drawings, readings with their conditions, findings, settings, snags.
//
// What never stands on the owner's sheet: planned work as if it were fitted, notes, access notes, settings, serial
// numbers, snags that are not shared with the owner, and any verdict on the system that is not ours to give. What is
// marked private stands on neither.
//
// Unknown is said in words. The sheet computes no load, volt or ohm: all of that is Derived's.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "core/derive/derived.h"
#include "core/session/recorders.h"
#include "core/sheet/document.h"

namespace tapwright {

// One change of the job in words, as the technician is told it.
struct SheetChange {
    std::string day;            // YYYY-MM-DD
    std::string person;         // empty: not known
    std::vector<Message> what;  // one part for each record
};

// What a technician met at one point during a visit, and what they left there.
struct SheetVisitRow {
    Id point;           // which may be gone
    std::string label;  // its label
    Message found;
    Message left;
};
struct SheetVisit {
    Id visit;
    std::vector<SheetVisitRow> rows;
};

struct SheetOptions {
    SheetReader reader = SheetReader::owner;
    document::Paper paper = document::Paper::a4;
    std::string time;            // RFC 3339: when the sheet is made; its day is the day the figures stand for
    std::string code;            // short code of the state it was made from; empty: none printed
    std::uint64_t position = 0;  // place in the job's log it was made from; 0: none printed
    std::string state;           // hash of that state, 64 hexadecimal digits; empty: none printed
    std::string version;         // of the program; empty: none printed
    // Changes since the last handover, oldest first. Private things are not among them.
    std::vector<SheetChange> changes;
    std::vector<SheetVisit> visits;  // as found and as left, for the technician
    Recorders recorders;             // of heard, polarity and tap_w: by whom and when, as far as the log knows
    // The small copy of a photo by its SHA-256; nothing when it is not there. Empty: no photos.
    std::function<std::optional<document::Picture>(const std::string& sha256)> picture;
};

// Requires: `derived` is derive(job). Returns: the same document for the same job, options and words; the lengths in it
// are in the units of `words`. Linear in the records. Every table row has as many cells as its table has columns, and
// no figure lacks its alternative text.
document::Document handover_sheet(const Job& job, const Derived& derived, const SheetOptions& options,
                                  const Words& words);

// The same block by block, for a medium that needs no more than one of them in memory: first the document without its
// blocks, then each.
struct SheetTaker {
    std::function<void(const document::Document& head)> begin;
    std::function<void(document::Block&& block)> take;
};
void handover_sheet(const Job& job, const Derived& derived, const SheetOptions& options, const Words& words,
                    const SheetTaker& taker);

}  // namespace tapwright
