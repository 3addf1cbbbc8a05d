#include "core/words/language.h"

#include <memory>
#include <vector>

#include "core/base/ensure.h"
#include "core/words/built_in_languages.h"

namespace tapwright {
namespace {

// What a language writes of its own accord stands with its catalogue, in the translation of these two.
Language language_from(std::string_view code, std::string_view mo) {
    static std::vector<std::unique_ptr<Catalogue>> kept;
    const Result<Catalogue> catalogue = Catalogue::from(mo);
    TAPWRIGHT_ENSURE(catalogue);  // msgfmt made it, and it was built in
    kept.push_back(std::make_unique<Catalogue>(*catalogue));
    Language language;
    language.code = code;
    language.catalogue = kept.back().get();
    const auto word = [&](const Pattern& pattern) {
        const std::string_view found = language.catalogue->find(pattern.context, pattern.text);
        return found.empty() ? std::string_view(pattern.text) : found;
    };
    language.name = word(Pattern("language", "English", nullptr));
    language.decimal_mark = word(Pattern("decimal mark", ".", nullptr));
    const std::string_view grouping = word(Pattern("between thousands", "none", nullptr));
    language.grouping = grouping == "none" ? std::string_view() : grouping;
    return language;
}

// For xgettext, which finds a pattern with its context only behind in_context(.
[[maybe_unused]] void patterns_of_languages() {
    in_context("language", "English");
    in_context("decimal mark", ".");
    in_context("between thousands", "none");
}

std::vector<Language> all_languages() {
    std::vector<Language> all = {Language()};
    for (const BuiltInLanguage& built_in : built_in_languages())
        all.push_back(language_from(built_in.code, built_in.mo));
    return all;
}

}  // namespace

const Language& english() {
    static const Language language;
    return language;
}

const Language& pseudo() {
    static const Language language = [] {
        Language made;
        made.code = "en-x-pseudo";
        made.name = "Pseudo";
        made.is_pseudo = true;
        return made;
    }();
    return language;
}

std::span<const Language> languages() {
    static const std::vector<Language> all = all_languages();
    return all;
}

const Language& language_for(std::string_view code) {
    if (code == "pseudo") return pseudo();
    const std::string_view primary = code.substr(0, code.find_first_of("-_.@"));
    const Language* found = nullptr;
    for (const Language& language : languages()) {
        if (language.code == code) return language;
        if (!found && language.code == primary) found = &language;
    }
    return found ? *found : english();
}

}  // namespace tapwright
