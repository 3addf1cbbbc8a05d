// Works on whole instructions: a mark must open before the operands of what it holds, and never inside a text object
// that began outside of it. A scanner of its own, because libqpdf's tokens take a third of the whole sheet's time.
#include "platform/print/marks.h"

#include <stdexcept>

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

}  // namespace

std::string tagged_content(std::string_view content, const std::vector<const char*>& types) {
    std::string out;
    out.reserve(content.size() + content.size() / 4);
    std::size_t marks = 0;
    std::size_t depth = 0;  // of marked content as it comes in
    bool artifact = false;
    const auto close_artifact = [&] {
        if (artifact) out += "\nEMC\n";
        artifact = false;
    };
    Scanner scanner(content);
    std::string_view instruction;
    std::string_view name;
    while (scanner.next(instruction, name)) {
        if (name == "BI") throw std::runtime_error("an image among the instructions");
        if (name == "BDC" && instruction.find("/MCID") != std::string_view::npos) {
            if (depth > 0 || marks >= types.size()) throw std::runtime_error("a mark too many");
            close_artifact();
            out += std::string("\n/") + types[marks] + " << /MCID " + std::to_string(marks) + " >> BDC";
            ++marks;
            ++depth;
            continue;
        }
        if (name == "EMC" && depth == 0) throw std::runtime_error("an EMC without its BDC");
        if (depth == 0 && !artifact && draws(name)) {
            out += "\n/Artifact BMC\n";
            artifact = true;
        }
        if (name == "BDC" || name == "BMC") ++depth;
        if (name == "EMC") --depth;
        out += instruction;
    }
    out += scanner.rest();
    close_artifact();
    if (marks != types.size() || depth != 0) throw std::runtime_error("marks that do not add up");
    return out;
}

}  // namespace tapwright::print
