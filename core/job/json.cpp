#include "core/job/json.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <unordered_set>

#include "core/base/harmless.h"
#include "core/base/text.h"

namespace tapwright {

Message place_in(std::string_view file, std::string_view pointer) {
    if (pointer.empty()) return file.empty() ? Message() : Message(code(cited(file, 200)));
    if (file.empty()) return Message("At {pointer}", {{"pointer", code(pointer)}});
    return Message("{file}, at {pointer}", {{"file", code(cited(file, 200))}, {"pointer", code(pointer)}});
}

namespace {

// Builds a Value from nlohmann's SAX events and stops at the first thing a job cannot hold.
class Builder : public nlohmann::json_sax<nlohmann::json> {
public:
    Builder(std::string_view what, const JsonLimits& limits) : what_(what), limits_(limits) {}

    bool null() override { return put(Value()); }
    bool boolean(bool flag) override { return put(flag); }
    bool number_integer(number_integer_t number) override { return put(static_cast<double>(number)); }
    bool number_unsigned(number_unsigned_t number) override { return put(static_cast<double>(number)); }
    bool number_float(number_float_t number, const string_t&) override { return put(number); }
    bool string(string_t& text) override {
        if (text.size() > limits_.text_bytes)
            return refuse(Message("This text has {count} bytes. At most {most} are read.",
                                  {{"count", text.size()}, {"most", limits_.text_bytes}}));
        return put(std::move(text));
    }
    bool binary(binary_t&) override { return refuse(Message("This is binary data, which JSON does not have.")); }

    bool start_object(std::size_t) override { return open(Map{}); }
    bool end_object() override { return close(); }
    bool start_array(std::size_t) override { return open(List{}); }
    bool end_array() override { return close(); }

    bool key(string_t& name) override {
        Level& level = levels_.back();
        level.key = std::move(name);
        if (level.key.size() > limits_.text_bytes)
            return refuse(Message("This key is longer than {most} bytes.", {{"most", limits_.text_bytes}}));
        if (level.has_key_already()) return refuse(Message("This key is given twice. Keep one."));
        return true;
    }

    bool parse_error(std::size_t position, const std::string& token,
                     const nlohmann::json::exception& exception) override {
        constexpr int number_overflow = 406;
        if (exception.id == number_overflow)
            return refuse(Message("The number {number} is too large.", {{"number", code(cited(token, 30))}}));
        byte_ = position;
        token_ = token;
        return false;
    }

    bool refused() const { return !why_.empty(); }
    const Message& why() const { return why_; }
    std::size_t byte() const { return byte_; }
    const std::string& token() const { return token_; }
    Value take() { return std::move(root_); }

private:
    struct Level {
        Value value;
        std::string key;
        std::unordered_set<std::string> keys;  // filled only for maps of many members

        // Whether `key` is one of the members so far.
        bool has_key_already() {
            const Map& members = *value.map();
            if (members.size() < 24)
                return std::any_of(members.begin(), members.end(), [&](const auto& m) { return m.first == key; });
            if (keys.empty())
                for (const auto& [name, member] : members) keys.insert(name);
            return !keys.insert(key).second;
        }
    };

    // RFC 6901, section 3: ~ is written ~0, and / is written ~1.
    static std::string pointer_token(const std::string& key) {
        std::string token;
        for (const char c : cited(key, 60))
            if (c == '~')
                token += "~0";
            else if (c == '/')
                token += "~1";
            else
                token += c;
        return token;
    }

    std::string pointer() const {
        std::string text;
        for (const Level& level : levels_) {
            text += '/';
            if (level.value.list())
                text += std::to_string(level.value.list()->size());
            else
                text += pointer_token(level.key);
        }
        return text;
    }

    bool refuse(Message reason) {
        why_ = placed(place_in(what_, pointer()), std::move(reason));
        return false;
    }

    bool put(Value value) {
        if (++values_ > limits_.values)
            return refuse(Message("There are more than {most} values.", {{"most", limits_.values}}));
        if (levels_.empty()) {
            root_ = std::move(value);
            return true;
        }
        Level& level = levels_.back();
        if (List* list = level.value.list())
            list->push_back(std::move(value));
        else
            level.value.map()->emplace_back(std::move(level.key), std::move(value));
        return true;
    }

    bool open(Value empty) {
        if (static_cast<int>(levels_.size()) >= limits_.depth)
            return refuse(
                Message("Lists and maps are nested more than {most} levels deep.", {{"most", limits_.depth}}));
        levels_.push_back({std::move(empty), {}, {}});
        return true;
    }

    bool close() {
        Value value = std::move(levels_.back().value);
        levels_.pop_back();
        return put(std::move(value));
    }

    std::string_view what_;
    JsonLimits limits_;
    std::vector<Level> levels_;
    Value root_;
    Message why_;
    std::size_t values_ = 0;
    std::size_t byte_ = 0;
    std::string token_;
};

// "house.json, line 3, column 7"; without a name just the line and column.
Message line_and_column(std::string_view what, std::string_view text, std::size_t byte) {
    std::size_t line = 1;
    std::size_t column = 1;
    for (std::size_t i = 0; i + 1 < byte && i < text.size(); ++i) {
        if (text[i] == '\n') {
            ++line;
            column = 1;
        } else if ((static_cast<unsigned char>(text[i]) & 0xC0) != 0x80) {
            ++column;
        }
    }
    if (what.empty()) return Message("Line {line}, column {column}", {{"line", line}, {"column", column}});
    return Message("{file}, line {line}, column {column}",
                   {{"file", code(cited(what, 200))}, {"line", line}, {"column", column}});
}

void write_text(std::string& out, std::string_view text) {
    static constexpr char digits[] = "0123456789abcdef";
    out += '"';
    for (const char c : text) {
        switch (c) {
            case '"':
                out += "\\\"";
                break;
            case '\\':
                out += "\\\\";
                break;
            case '\n':
                out += "\\n";
                break;
            case '\r':
                out += "\\r";
                break;
            case '\t':
                out += "\\t";
                break;
            case '\b':
                out += "\\b";
                break;
            case '\f':
                out += "\\f";
                break;
            default:
                if (static_cast<unsigned char>(c) < 0x20) {
                    out += "\\u00";
                    out += digits[c >> 4];
                    out += digits[c & 15];
                } else {
                    out += c;
                }
        }
    }
    out += '"';
}

// JSON in which only layout is a control: escapes beyond what RFC 8259 demands, all of them in the basic plane.
std::string with_escapes(std::string json) {
    const auto is_ascii = [](char c) { return c > 0x1F && c < 0x7F; };
    if (std::all_of(json.begin(), json.end(), [&](char c) { return is_ascii(c) || c == '\n'; })) return json;
    static constexpr char digits[] = "0123456789abcdef";
    std::string out;
    out.reserve(json.size());
    for (std::string_view left = json; !left.empty();) {
        const std::size_t length = std::max<std::size_t>(sequence_length(left), 1);
        const std::string_view sign = left.substr(0, length);
        const char32_t code = sequence_length(left) > 0 ? code_point(sign) : U' ';
        if (code != '\n' && code <= 0xFFFF && does_something(code)) {
            out += "\\u";
            for (const int shift : {12, 8, 4, 0}) out += digits[code >> shift & 15U];
        } else {
            out += sign;
        }
        left.remove_prefix(length);
    }
    return out;
}

// Writes `value`; `indent` < 0 means on one line. Depth is bounded by what could be read.
void write(std::string& out, const Value& value, int indent) {
    const auto line = [&](int level) {
        if (indent >= 0) out.append(1, '\n').append(static_cast<std::size_t>(level) * 2, ' ');
    };
    const int inner = indent < 0 ? -1 : indent + 1;
    if (const bool* flag = value.flag()) {
        out += *flag ? "true" : "false";
    } else if (const double* number = value.number()) {
        out += shortest(*number);
    } else if (const std::string* text = value.text()) {
        write_text(out, *text);
    } else if (const List* list = value.list()) {
        out += '[';
        for (std::size_t i = 0; i < list->size(); ++i) {
            if (i > 0) out += ',';
            line(inner);
            write(out, (*list)[i], inner);
        }
        if (!list->empty()) line(indent);
        out += ']';
    } else if (const Map* map = value.map()) {
        out += '{';
        for (std::size_t i = 0; i < map->size(); ++i) {
            if (i > 0) out += ',';
            line(inner);
            write_text(out, (*map)[i].first);
            out += indent < 0 ? ":" : ": ";
            write(out, (*map)[i].second, inner);
        }
        if (!map->empty()) line(indent);
        out += '}';
    } else {
        out += "null";
    }
}

// The values a journal holds most need no parser: a text without escapes.
bool plain_text(std::string_view json) {
    if (json.size() < 2 || json.front() != '"' || json.back() != '"') return false;
    for (const char c : json.substr(1, json.size() - 2))
        if (c == '"' || c == '\\' || static_cast<unsigned char>(c) < 0x20) return false;
    return true;
}

}  // namespace

Result<Value> parse_json(std::string_view text, std::string_view what, const JsonLimits& limits) {
    const Message whole = place_in(what, "");
    if (text.size() > limits.bytes)
        return placed(whole, Refusal{Message("It has {count} bytes. At most {most} are read.",
                                             {{"count", text.size()}, {"most", limits.bytes}})});
    if (text.empty()) return placed(whole, Refusal{Message("It is empty. Give a JSON text.")});
    if (!is_utf8(text)) return placed(whole, Refusal{Message("It is not UTF-8 text. Save it as UTF-8 JSON.")});
    if (const std::size_t at = text.find('\0'); at != std::string_view::npos)
        return placed(line_and_column(what, text, at + 1),
                      Refusal{Message("There is a zero byte, which JSON does not have.")});
    if (text.size() - 2 <= limits.text_bytes && plain_text(text))
        return Value(std::string(text.substr(1, text.size() - 2)));
    Builder builder(what, limits);
    if (nlohmann::json::sax_parse(text, &builder)) return builder.take();
    if (builder.refused()) return Refusal{builder.why()};
    Message why = builder.byte() > text.size() ? Message("The text ends before its JSON is complete.")
                                               : Message("This is not JSON (RFC 8259), from “{token}” on.",
                                                         {{"token", entered(cited(builder.token(), 20))}});
    return Refusal{placed(line_and_column(what, text, builder.byte()), std::move(why))};
}

std::string compact_json(const Value& value) {
    std::string out;
    write(out, value, -1);
    return out;
}

std::string pretty_json(const Value& value) {
    std::string out;
    write(out, value, 0);
    return with_escapes(out + "\n");
}

std::string answer_json(const Value& value) {
    return with_escapes(compact_json(value));
}

}  // namespace tapwright
