// Words: makes text of messages. The one object that knows a language, how it writes numbers and dates, and in which
// units a person reads lengths. Everything a person reads is made here, at the edge: by a widget, a renderer of sheets
// or the command line. Files and `--json` hold plain numbers and never come by here for them.
//
// Cheap to copy, constant, and safe to share. A Language outlives every Words made of it.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "core/base/message.h"
#include "core/base/result.h"
#include "core/units/unit.h"
#include "core/words/language.h"

namespace tapwright {

class Words {
public:
    explicit Words(const Language& language = english(), LengthUnits lengths = LengthUnits::metric,
                   Breaks breaks = Breaks::kept)
        : language_(&language), lengths_(lengths), breaks_(breaks) {}

    // What people typed and what files hold comes out harmless (core/base/harmless.h).
    // Every place of the pattern needs its argument: one that is missing is our own mistake.
    std::string text(const Message& message) const;
    std::string text(const Argument& argument) const;
    std::string text(const Refusal& refusal) const { return text(refusal.message); }

    const Language& language() const { return *language_; }
    LengthUnits lengths() const { return lengths_; }
    Words in(LengthUnits lengths) const { return Words(*language_, lengths, breaks_); }
    // For where each message is a line: a line end that somebody typed is shown as a sign.
    Words on_one_line() const { return Words(*language_, lengths_, Breaks::shown); }

private:
    std::string_view translated(const Message& message) const;
    void add(std::string& text, const Message& message) const;
    void add(std::string& text, const Argument& argument) const;
    void add_filled(std::string& text, std::string_view pattern, const Message& message) const;
    std::string shown(std::string_view foreign) const;
    std::string figure(const Figure& figure) const;
    std::string day(const Day& day) const;
    std::string moment(const Moment& moment) const;
    void add_series(std::string& text, const Series& series) const;

    const Language* language_;
    LengthUnits lengths_;
    Breaks breaks_;
};

// In English with a decimal point and metric lengths, whatever the person's language: for `--json` and for tests.
std::string in_english(const Message& message);
std::string in_english(const Refusal& refusal);

}  // namespace tapwright
