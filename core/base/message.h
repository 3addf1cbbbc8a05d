// Message: a sentence, a label or a word as a value, until somebody reads it.
//
//     Message("{zone}: {read} read, {expected} expected.",
//             {{"zone", entered(name)}, {"read", reading.ohms}, {"expected", judgement.expected}})
//
// The pattern is whole English with named places; what stands in a place has a type, so that language, number format
// and units are decided where the text is made, and nowhere else (core/words/words.h). The pattern is also the key of
// the translations: xgettext finds it behind `Message(`, `plural(`, `in_context(` and `Pattern(`, so it must stand
// there as a literal. What this is not: text. A Message cannot be joined to another, cut or searched; logic looks at
// data.
//
//     plural("{count} loudspeaker", "{count} loudspeakers", n)      the count fills {count}
//     in_context("snag", "open")                                    where one English word is several
//     sentences({what, why, next})                                  whole sentences, one after the other
//     entered(room.name)                                            what people typed: never translated
//     code("tapwright help")                                        what machines read: commands, keys, paths
#pragma once

#include <concepts>
#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "core/base/harmless.h"
#include "core/base/unit.h"

namespace tapwright {

class Argument;

// ---- what may stand in a place ----

// A name, a label, a note: somebody's own words, shown as they are.
struct Entered {
    std::string text;
};
inline Entered entered(std::string_view text) {
    return {std::string(text)};
}

// What machines read and people copy: a command, a field's key, a path, a hash.
struct Code {
    std::string text;
};
inline Code code(std::string_view text) {
    return {harmless(text, Breaks::shown)};
}

// A quantity. Digits as the trade reads its unit (core/units/show.h), or at most so many decimals.
// Which way its last digit goes, where it is cut: a figure that somebody may go up to is rounded down, and one that
// must at least be reached is rounded up, so that whoever keeps to what was said keeps the limit. Down is towards less,
// of negative figures too.
enum class Rounding : std::uint8_t { nearest, down, up };
struct Figure {
    static constexpr int as_usual = -1;
    double value = 0;
    Unit unit = Unit::none;
    int decimals = as_usual;
    Rounding rounding = Rounding::nearest;
};

// A whole number: of loudspeakers, of a row.
struct Count {
    std::int64_t value = 0;
};

// A day, YYYY-MM-DD, and a moment, RFC 3339, as files hold them; shown as people write them.
struct Day {
    std::string date;
};
struct Moment {
    std::string time;
};

// One of a closed list by its key, as files hold it: {"Purpose", "first_fix"}. The words are in core/words/choices.h:
// "first fix" within a sentence, "First fix" where it is a title: alone in a row, a cell or on a button.
struct Choice {
    std::string_view list;
    std::string_view key;
    bool is_title = false;
};

// Several: "L-1, L-2 and L-3", or with "or".
struct Series {
    enum class Last : std::uint8_t { with_and, with_or };
    std::vector<Argument> items;
    Last last = Last::with_and;
};

// ---- the message ----

// A literal in English. Constant, so that tables can hold it.
struct Pattern {
    const char* text = "";
    const char* many = nullptr;     // of a plural
    const char* context = nullptr;  // msgctxt; none where the English word says it

    constexpr Pattern() = default;
    template <std::size_t size>
    explicit constexpr Pattern(const char (&literal)[size]) : text(literal) {}
    constexpr Pattern(const char* in, const char* one, const char* several) : text(one), many(several), context(in) {}

    constexpr bool empty() const { return *text == '\0'; }
};

struct Named;

template <class T>
concept Arguable = requires(const T& value) {
    { as_argument(value) } -> std::same_as<Argument>;
};

// What may be a message by itself.
template <class T>
concept Standing = std::same_as<T, Entered> || std::same_as<T, Code> || std::same_as<T, Figure> ||
    std::same_as<T, Count> || std::same_as<T, Day> || std::same_as<T, Moment> || std::same_as<T, Choice> ||
    std::same_as<T, Series> || Arguable<T>;

class Message {
public:
    // Says nothing.
    Message();
    template <std::size_t size>
    explicit Message(const char (&literal)[size]);
    // Arguments in braces are an array here, not an initializer_list: an array's can be moved out of, a list's only
    // copied, and frames of the window make hundreds of messages.
    template <std::size_t size, std::size_t several>
    Message(const char (&literal)[size], Named (&&named)[several]);
    template <std::size_t size, std::same_as<std::vector<Named>> Several>
    Message(const char (&literal)[size], Several named);
    Message(Pattern pattern);
    template <std::size_t several>
    Message(Pattern pattern, Named (&&named)[several]);
    template <std::same_as<std::vector<Named>> Several>
    Message(Pattern pattern, Several named);
    // Of a plural.
    Message(Pattern pattern, std::int64_t count, Named* first, std::size_t several);
    // One figure, name or date, and nothing of ours around it.
    Message(Argument alone);
    template <Standing T>
    Message(const T& alone);

    Message(const Message&);
    Message(Message&&) noexcept;
    Message& operator=(const Message&);
    Message& operator=(Message&&) noexcept;
    ~Message();

    bool empty() const;

    // ---- for Words alone ----
    const Pattern& pattern() const { return pattern_; }
    std::int64_t count() const { return count_; }
    const std::vector<Named>& named() const { return named_; }
    const std::vector<Message>& sentences() const { return sentences_; }
    // Nothing where the message has no such place.
    const Argument* find(std::string_view place) const;

private:
    friend Message sentences(Message* first, std::size_t several);

    void take(Named* first, std::size_t several);

    Pattern pattern_;
    std::int64_t count_ = 0;
    std::vector<Named> named_;
    std::vector<Message> sentences_;
};

// One thing to stand in a place.
class Argument {
public:
    using Value = std::variant<Entered, Code, Figure, Count, Day, Moment, Choice, Series, Message>;

    // Out of line, all of them: inlined everywhere they cost compile time, and GCC 12 takes a variant that is moved
    // from for one that was never set.
    Argument(Entered value);
    Argument(Code value);
    Argument(Figure value);
    Argument(Count value);
    Argument(Day value);
    Argument(Moment value);
    Argument(Choice value);
    Argument(Series value);
    Argument(Message value);
    Argument(const Argument&);
    Argument(Argument&&) noexcept;
    Argument& operator=(const Argument&);
    Argument& operator=(Argument&&) noexcept;
    ~Argument();
    template <class T>
    requires(std::integral<T> && !std::same_as<T, bool> && !std::same_as<T, char>) Argument(T value)
        : Argument(Count{static_cast<std::int64_t>(value)}) {}
    // Quantities (core/units/unit.h) and choices (core/job/choices.h) say by as_argument() what they are.
    template <Arguable T>
    Argument(const T& value) : Argument(as_argument(value)) {}

    const Value& value() const { return value_; }

private:
    Value value_;
};

struct Named {
    const char* place;
    Argument value;
};

// Here, not in the class: clang makes a vector's functions where they are used, and they need all of Named.
template <std::size_t size>
Message::Message(const char (&literal)[size]) : pattern_(literal) {}

template <std::size_t size, std::size_t several>
Message::Message(const char (&literal)[size], Named (&&named)[several]) : pattern_(literal) {
    take(named, several);
}

template <std::size_t size, std::same_as<std::vector<Named>> Several>
Message::Message(const char (&literal)[size], Several named) : pattern_(literal), named_(std::move(named)) {}

template <std::size_t several>
Message::Message(Pattern pattern, Named (&&named)[several]) : pattern_(pattern) {
    take(named, several);
}

template <std::same_as<std::vector<Named>> Several>
Message::Message(Pattern pattern, Several named) : pattern_(pattern), named_(std::move(named)) {}

template <Standing T>
Message::Message(const T& alone) : Message(Argument(alone)) {}

// Which of the two is said, the language decides; {count} needs not be named.
template <std::size_t one_size, std::size_t many_size>
Message plural(const char (&one)[one_size], const char (&many)[many_size], std::int64_t count) {
    return Message(Pattern(nullptr, one, many), count, nullptr, 0);
}
template <std::size_t one_size, std::size_t many_size, std::size_t several>
Message plural(const char (&one)[one_size], const char (&many)[many_size], std::int64_t count,
               Named (&&named)[several]) {
    return Message(Pattern(nullptr, one, many), count, named, several);
}
template <std::size_t one_size, std::size_t many_size, std::same_as<std::vector<Named>> Several>
Message plural(const char (&one)[one_size], const char (&many)[many_size], std::int64_t count, Several named) {
    return Message(Pattern(nullptr, one, many), count, named.data(), named.size());
}

template <std::size_t context_size, std::size_t size>
Message in_context(const char (&context)[context_size], const char (&literal)[size]) {
    return Message(Pattern(context, literal, nullptr));
}
template <std::size_t context_size, std::size_t size, std::size_t several>
Message in_context(const char (&context)[context_size], const char (&literal)[size], Named (&&named)[several]) {
    return Message(Pattern(context, literal, nullptr), std::move(named));
}
template <std::size_t context_size, std::size_t size, std::same_as<std::vector<Named>> Several>
Message in_context(const char (&context)[context_size], const char (&literal)[size], Several named) {
    return Message(Pattern(context, literal, nullptr), std::move(named));
}

// Whole sentences, one after the other; those that say nothing are left out. They are moved out of.
Message sentences(Message* first, std::size_t several);
template <std::size_t several>
Message sentences(Message (&&all)[several]) {
    return sentences(all, several);
}
template <std::same_as<std::vector<Message>> Several>
Message sentences(Several several) {
    return sentences(several.data(), several.size());
}

// "house.json, at /points/3/tap_w: Write watts, for example 7.5 W.": what is wrong, a whole sentence, behind where.
// Just the problem where the place says nothing.
Message placed(Message place, Message problem);

// "L-1, L-2 and L-3" of anything that can stand in a place.
template <class Range>
Series series(const Range& items, Series::Last last = Series::Last::with_and) {
    Series made{{}, last};
    for (const auto& item : items) made.items.push_back(Argument(item));
    return made;
}

}  // namespace tapwright
