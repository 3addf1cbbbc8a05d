#include "platform/print/finish.h"

#include <cctype>
#include <exception>
#include <new>
#include <string_view>

#include "platform/print/tagging.h"

namespace tapwright::print {

std::string pdf_date(const std::string& rfc3339) {
    // Digits where the pattern has '0'; a fraction of a second may follow and is left out.
    static constexpr std::string_view pattern = "0000-00-00T00:00:00";
    const auto fits = [](std::string_view text, std::string_view shape) {
        if (text.size() != shape.size()) return false;
        for (std::size_t k = 0; k < shape.size(); ++k) {
            const bool digit = std::isdigit(static_cast<unsigned char>(text[k])) != 0;
            if (shape[k] == '0' ? !digit : text[k] != shape[k]) return false;
        }
        return true;
    };
    const std::string_view text = rfc3339;
    if (text.size() <= pattern.size() || !fits(text.substr(0, pattern.size()), pattern)) return {};
    std::string out = "D:";
    for (std::size_t k = 0; k < pattern.size(); ++k)
        if (pattern[k] == '0') out += text[k];
    std::string_view zone = text.substr(pattern.size());
    if (zone.front() == '.') {
        const auto end = zone.find_first_not_of("0123456789", 1);
        if (end == std::string_view::npos || end == 1) return {};
        zone.remove_prefix(end);
    }
    if (zone == "Z") return out + "Z";
    if (!fits(zone, "+00:00") && !fits(zone, "-00:00")) return {};
    return out + std::string(zone.substr(0, 3)) + "'" + std::string(zone.substr(4, 2)) + "'";
}

Result<std::string> finish(const std::string& painted, const Structure& structure, const document::Document& document) {
    const About about{document.language.empty() ? "en" : document.language, document.title, document.author,
                      pdf_date(document.created)};
    try {
        return tagged(painted, structure, about);
    } catch (const std::bad_alloc&) {
        throw;
    } catch (const std::exception& error) {
        return Refusal{
            Message("The sheet could not be tagged: {reason}. Nothing was written.", {{"reason", code(error.what())}})};
    }
}

}  // namespace tapwright::print
