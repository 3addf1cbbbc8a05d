#include "tests/words/source_scan.h"

#include <algorithm>
#include <cctype>
#include <optional>
#include <set>
#include <span>

namespace {

struct Token {
    enum class Kind { word, text, sign };
    Kind kind = Kind::sign;
    std::string text;  // of a literal: what it says
    std::size_t line = 0;

    bool is(std::string_view sign) const { return kind != Kind::text && text == sign; }
};

bool in_word(char c) {
    return std::isalnum(static_cast<unsigned char>(c)) || c == '_';
}

class Lexer {
public:
    explicit Lexer(std::string_view source) : rest_(source) {}

    std::vector<Token> tokens() {
        while (!rest_.empty()) step();
        return std::move(tokens_);
    }

private:
    void step() {
        const char c = rest_.front();
        if (rest_.starts_with("//"))
            skip(rest_.find('\n'));
        else if (rest_.starts_with("/*"))
            skip(rest_.find("*/", 2) == std::string_view::npos ? rest_.size() : rest_.find("*/", 2) + 2);
        else if (std::isspace(static_cast<unsigned char>(c)))
            skip(1);
        else if (c == '"')
            add(Token::Kind::text, quoted('"'));
        else if (c == '\'')
            quoted('\'');
        else if (std::isdigit(static_cast<unsigned char>(c)))
            add(Token::Kind::word, take_while([](char each) { return in_word(each) || each == '.' || each == '\''; }));
        else if (in_word(c))
            word();
        else
            add(Token::Kind::sign, std::string(taken(1)));
    }

    // A name, or what stands in front of a literal.
    void word() {
        std::string name = take_while(in_word);
        const bool is_prefix = rest_.starts_with('"');
        if (is_prefix && name.ends_with('R'))
            add(Token::Kind::text, raw());
        else if (!is_prefix || (name != "u8" && name != "u" && name != "U" && name != "L"))
            add(Token::Kind::word, std::move(name));
    }

    std::string raw() {
        const std::size_t open = rest_.find('(');
        const std::string end = ")" + std::string(rest_.substr(1, open - 1)) + "\"";
        const std::size_t close = rest_.find(end, open);
        std::string text(rest_.substr(open + 1, close - open - 1));
        skip(close + end.size());
        return text;
    }

    std::string quoted(char mark) {
        std::string text;
        skip(1);
        while (!rest_.empty() && rest_.front() != mark) {
            if (rest_.front() == '\\') {
                skip(1);
                text += rest_.starts_with('n') ? '\n' : rest_.front();
                skip(1);
            } else {
                text += taken(1);
            }
        }
        skip(1);
        return text;
    }

    template <class Test>
    std::string take_while(Test test) {
        std::size_t size = 0;
        while (size < rest_.size() && test(rest_[size])) ++size;
        return std::string(taken(size));
    }

    std::string_view taken(std::size_t size) {
        const std::string_view front = rest_.substr(0, size);
        line_ += static_cast<std::size_t>(std::count(front.begin(), front.end(), '\n'));
        rest_.remove_prefix(front.size());
        return front;
    }
    void skip(std::size_t size) { taken(std::min(size, rest_.size())); }
    void add(Token::Kind kind, std::string text) { tokens_.push_back({kind, std::move(text), line_}); }

    std::string_view rest_;
    std::size_t line_ = 1;
    std::vector<Token> tokens_;
};

using Tokens = std::span<const Token>;

int step_of(const Token& token) {
    if (token.is("(") || token.is("{") || token.is("[")) return 1;
    return token.is(")") || token.is("}") || token.is("]") ? -1 : 0;
}

// What stands between the commas of the brackets that open at tokens[0].
std::vector<Tokens> arguments_of(Tokens tokens) {
    std::vector<Tokens> arguments;
    int depth = 0;
    std::size_t start = 1;
    for (std::size_t i = 0; i < tokens.size(); ++i) {
        depth += step_of(tokens[i]);
        const bool is_end = depth == 0;
        if (!is_end && !(depth == 1 && tokens[i].is(","))) continue;
        if (i > start) arguments.push_back(tokens.subspan(start, i - start));
        if (is_end) return arguments;
        start = i + 1;
    }
    return {};
}

// Whether a literal stands in it outside of all inner brackets.
bool has_literal(Tokens argument) {
    int depth = 0;
    for (const Token& token : argument) {
        depth += step_of(token);
        if (depth == 0 && token.kind == Token::Kind::text) return true;
    }
    return false;
}

// The text of an argument that is one literal, or several side by side.
std::optional<std::string> literal(Tokens argument) {
    std::string text;
    for (const Token& token : argument) {
        if (token.kind != Token::Kind::text) return std::nullopt;
        text += token.text;
    }
    return text;
}

// The names in {{"zone", ...}, {"load", ...}}; nothing where the list is made elsewhere.
std::optional<std::set<std::string>> names_in(Tokens list) {
    if (list.empty() || !list.front().is("{")) return std::nullopt;
    std::set<std::string> names;
    for (const Tokens each : arguments_of(list)) {
        if (each.size() < 2 || !each[0].is("{") || each[1].kind != Token::Kind::text) return std::nullopt;
        names.insert(each[1].text);
    }
    return names;
}

std::set<std::string> places_in(std::string_view pattern) {
    std::set<std::string> places;
    for (std::size_t open = pattern.find('{'); open != std::string_view::npos; open = pattern.find('{', open + 1))
        places.insert(std::string(pattern.substr(open + 1, pattern.find('}', open) - open - 1)));
    return places;
}

// Where a function that makes messages has its patterns and its arguments.
struct Shape {
    std::string_view name;
    std::vector<std::size_t> patterns;
    std::size_t arguments;
};
const Shape shapes[] = {
    {"Message", {0}, 1}, {"plural", {0, 1}, 3}, {"in_context", {1}, 2}, {"Pattern", {0}, 1}, {"WORDS", {0}, 1}};

class Scanner {
public:
    Scanner(std::string_view source, std::string_view name) : name_(name), tokens_(Lexer(source).tokens()) {}

    Scan scan() {
        const Tokens all(tokens_);
        for (std::size_t i = 0; i + 2 < all.size(); ++i) {
            if (all[i].kind != Token::Kind::word) continue;
            check_declaration(all.subspan(i));
            for (const Shape& shape : shapes)
                if (all[i].text == shape.name && (all[i + 1].is("(") || all[i + 1].is("{")))
                    check_call(shape, all[i].line, arguments_of(all.subspan(i + 1)));
        }
        return std::move(scan_);
    }

private:
    void problem(std::size_t line, const std::string& what) {
        scan_.problems.push_back(std::string(name_) + ":" + std::to_string(line) + ": " + what);
    }

    // Message name("..."), which xgettext does not see.
    void check_declaration(Tokens at) {
        if (at.size() < 4 || !(at[0].is("Message") || at[0].is("Pattern")) || at[1].kind != Token::Kind::word) return;
        if ((at[2].is("(") || at[2].is("{")) && at[3].kind == Token::Kind::text)
            problem(at[0].line,
                    "xgettext does not see this pattern; write " + at[1].text + " = " + at[0].text + "(...)");
    }

    void check_call(const Shape& shape, std::size_t line, const std::vector<Tokens>& arguments) {
        std::vector<std::string> patterns;
        for (const std::size_t place : shape.patterns) {
            if (place >= arguments.size() || !has_literal(arguments[place])) return;
            const std::optional<std::string> text = literal(arguments[place]);
            if (!text) return problem(line, "a pattern must be one literal, not chosen or joined in its place");
            patterns.push_back(*text);
        }
        ++scan_.patterns;
        if (shape.name == "Pattern" || shape.name == "WORDS") return;
        std::set<std::string> names;
        if (shape.arguments < arguments.size()) {
            const std::optional<std::set<std::string>> given = names_in(arguments[shape.arguments]);
            if (!given) return;
            names = *given;
        }
        ++scan_.checked;
        check_places(shape, line, patterns, names);
    }

    void check_places(const Shape& shape, std::size_t line, const std::vector<std::string>& patterns,
                      const std::set<std::string>& names) {
        std::set<std::string> places;
        for (const std::string& pattern : patterns) places.merge(places_in(pattern));
        for (const std::string& place : places)
            if (!names.contains(place) && !(shape.name == "plural" && place == "count"))
                problem(line, "the place {" + place + "} has no argument");
        for (const std::string& given : names)
            if (!places.contains(given)) problem(line, "the argument \"" + given + "\" has no place");
    }

    std::string_view name_;
    std::vector<Token> tokens_;
    Scan scan_;
};

}  // namespace

Scan scan_source(std::string_view source, std::string_view name) {
    return Scanner(source, name).scan();
}
