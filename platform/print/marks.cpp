// Works on whole instructions: a mark must open before the operands of what it holds, and never inside a text object
// that began outside of it. A marker sees to both, for cairo ends the text object before it draws one. A scanner of its
// own, because libqpdf's tokens take a third of the whole sheet's time.
#include "platform/print/marks.h"

#include <charconv>
#include <cmath>
#include <stdexcept>
#include <system_error>

namespace tapwright::print {
namespace {

bool is_space(char c) {
    return c == ' ' || c == '\n' || c == '\r' || c == '\t' || c == '\f' || c == '\0';
}
bool is_delimiter(char c) {
    return std::string_view("()<>[]{}/%").find(c) != std::string_view::npos;
}

// Reads tokens; only operators matter, everything else is passed over.
class Scanner {
public:
    explicit Scanner(std::string_view content) : content_(content) {}

    // The next instruction: operands and operator as they stand. False at the end.
    bool next(std::string_view& instruction, std::string_view& name) {
        const std::size_t start = at_;
        while (at_ < content_.size()) {
            const char c = content_[at_];
            if (is_space(c)) {
                ++at_;
            } else if (c == '(') {
                skip_string();
            } else if (c == '%') {
                while (at_ < content_.size() && content_[at_] != '\n' && content_[at_] != '\r') ++at_;
            } else if (is_delimiter(c)) {
                skip_delimited();
            } else if (const std::string_view word = take_word(); is_operator(word)) {
                name = word;
                instruction = content_.substr(start, at_ - start);
                return true;
            }
        }
        rest_ = content_.substr(start);
        return false;
    }

    std::string_view rest() const { return rest_; }

private:
    static bool is_operator(std::string_view word) {
        const char c = word.front();
        const bool number = (c >= '0' && c <= '9') || c == '+' || c == '-' || c == '.';
        return !number && word != "true" && word != "false" && word != "null";
    }

    std::string_view take_word() {
        const std::size_t start = at_;
        while (at_ < content_.size() && !is_space(content_[at_]) && !is_delimiter(content_[at_])) ++at_;
        return content_.substr(start, at_ - start);
    }

    // A literal string: parentheses nest, a backslash takes the next character with it.
    void skip_string() {
        int depth = 0;
        for (; at_ < content_.size(); ++at_) {
            const char c = content_[at_];
            if (c == '\\') {
                ++at_;
            } else if (c == '(') {
                ++depth;
            } else if (c == ')' && --depth == 0) {
                ++at_;
                return;
            }
        }
        throw std::runtime_error("a text without an end");
    }

    void skip_delimited() {
        const bool name = content_[at_] == '/';
        const bool hexadecimal = content_[at_] == '<' && content_.substr(at_, 2) != "<<";
        ++at_;
        if (name) take_word();
        if (!hexadecimal) return;
        at_ = content_.find('>', at_);
        if (at_ == std::string_view::npos) throw std::runtime_error("a text without an end");
        ++at_;
    }

    std::string_view content_;
    std::string_view rest_;
    std::size_t at_ = 0;
};

bool draws(std::string_view name) {
    return name == "m" || name == "re" || name == "BT" || name == "Do" || name == "sh";
}

// Whether `instruction` is "x y width height re" of the marker.
bool is_marker(std::string_view instruction, const Marker& marker) {
    const char* at = instruction.data();
    const char* const end = at + instruction.size();
    for (const double expected : {marker.x, marker.y, marker.width, marker.height}) {
        while (at != end && is_space(*at)) ++at;
        double found = 0;
        const auto read = std::from_chars(at, end, found);
        if (read.ec != std::errc() || std::abs(found - expected) > 0.01) return false;
        at = read.ptr;
    }
    return true;
}

class Rewriter {
public:
    Rewriter(std::string_view content, const std::vector<const char*>& types) : scanner_(content), types_(types) {
        out_.reserve(content.size() + content.size() / 4);
    }

    std::string run() {
        std::string_view instruction;
        std::string_view name;
        while (scanner_.next(instruction, name)) {
            if (name == "BI") throw std::runtime_error("an image among the instructions");
            if (name == "BDC" || name == "BMC") {
                begin_foreign(instruction);
            } else if (name == "EMC") {
                end_foreign(instruction);
            } else if (name == "re" && is_marker(instruction, mark_begins)) {
                pass_fill();
                begin_mark();
            } else if (name == "re" && is_marker(instruction, mark_ends)) {
                pass_fill();
                end_mark();
            } else {
                if (!open_ && !artifact_ && draws(name)) begin_artifact();
                flush_pending();
                out_ += instruction;
            }
        }
        out_ += scanner_.rest();
        end_artifact();
        if (open_ || marks_ != types_.size()) throw std::runtime_error("marks that do not add up");
        return std::move(out_);
    }

private:
    // The colour it was filled with stays, for cairo counts on it.
    void pass_fill() {
        std::string_view instruction;
        std::string_view name;
        if (!scanner_.next(instruction, name) || (name != "f" && name != "f*"))
            throw std::runtime_error("a marker that is not filled");
    }

    void begin_mark() {
        if (open_ || marks_ >= types_.size()) throw std::runtime_error("a mark too many");
        end_artifact();
        out_ += std::string("\n/") + types_[marks_] + " << /MCID " + std::to_string(marks_) + " >> BDC";
        ++marks_;
        open_ = true;
    }

    void end_mark() {
        if (!open_) throw std::runtime_error("an end without its mark");
        out_ += "\nEMC";
        open_ = false;
    }

    // What cairo says of glyphs whose letters cannot be told from themselves stays: within one text object it is
    // within a mark or an artifact as a whole. It says so too of signs without a glyph, as isolates are: that is left
    // out.
    void begin_foreign(std::string_view instruction) {
        drop_pending();
        foreign_.push_back(instruction.find("/ActualText") != std::string_view::npos);
        if (foreign_.back()) pending_ = instruction;
    }

    void end_foreign(std::string_view instruction) {
        if (foreign_.empty()) throw std::runtime_error("an end without its mark");
        const bool is_kept = foreign_.back() && pending_.empty();
        foreign_.pop_back();
        pending_ = {};
        if (is_kept) out_ += instruction;
    }

    // Something is drawn within what was opened last.
    void flush_pending() {
        out_ += pending_;
        pending_ = {};
    }

    // Nothing was drawn before something else was opened within it.
    void drop_pending() {
        if (!pending_.empty()) foreign_.back() = false;
        pending_ = {};
    }

    void begin_artifact() {
        out_ += "\n/Artifact BMC\n";
        artifact_ = true;
    }

    void end_artifact() {
        if (artifact_) out_ += "\nEMC\n";
        artifact_ = false;
    }

    Scanner scanner_;
    const std::vector<const char*>& types_;
    std::string out_;
    std::vector<bool> foreign_;  // marked content that is open and not ours: whether it stays
    std::string_view pending_;   // the beginning of the last of them, as long as nothing is drawn within it
    std::size_t marks_ = 0;
    bool open_ = false;
    bool artifact_ = false;
};

}  // namespace

std::string tagged_content(std::string_view content, const std::vector<const char*>& types) {
    return Rewriter(content, types).run();
}

}  // namespace tapwright::print
