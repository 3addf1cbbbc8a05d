// Whether a text is one that can be read on a ladder: so many sentences of 20 words at most, in the trade's own words,
// with a real minus sign, no capitals for stress and no ids.
#pragma once

#include <algorithm>
#include <array>
#include <cctype>
#include <string>
#include <vector>

#include "core/job/job.h"

namespace tapwright {

inline std::vector<std::string> split_sentences(const std::string& text) {
    std::vector<std::string> sentences(1);
    for (std::size_t i = 0; i < text.size(); ++i) {
        sentences.back() += text[i];
        const bool ends = text[i] == '.' || text[i] == '?' || text[i] == '!';
        if (!ends || i + 1 == text.size() || text[i + 1] != ' ') continue;
        sentences.emplace_back();
        ++i;
    }
    return sentences;
}

// Words as people count them: a unit belongs to its figure, and marks around a word to the word.
inline std::vector<std::string> words_in(const std::string& sentence) {
    constexpr std::array units = {"W", "V", "mA", "Ω", "kΩ", "MΩ", "%", "dB", "dB(A)", "Hz", "kHz", "m", "AWG", "×"};
    std::vector<std::string> words(1);
    for (const char c : sentence)
        if (c == ' ')
            words.emplace_back();
        else
            words.back() += c;
    for (std::string& word : words) {
        while (!word.empty() && std::string_view("(").find(word.front()) != std::string_view::npos) word.erase(0, 1);
        while (!word.empty() && word != "dB(A)" &&
               std::string_view(".,;:?!)").find(word.back()) != std::string_view::npos)
            word.pop_back();
    }
    std::erase_if(words, [&](const std::string& word) {
        return word.empty() || std::find(units.begin(), units.end(), word) != units.end();
    });
    return words;
}

inline bool is_shouted(const std::string& word) {
    const auto is_capital = [](unsigned char c) { return std::isupper(c) != 0; };
    return word.size() >= 4 && std::all_of(word.begin(), word.end(), is_capital);
}

inline bool has_typed_minus(const std::string& word) {
    return word.size() > 1 && word[0] == '-' && std::isdigit(static_cast<unsigned char>(word[1]));
}

inline bool is_not_said(std::string word) {
    constexpr std::array not_said = {"ohm",    "ohms", "knob",    "knobs", "channel", "channels", "megohm", "jacket",
                                     "splice", "legs", "drifted", "hang",  "hangs",   "source",   "d.c"};
    for (char& c : word) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return std::find(not_said.begin(), not_said.end(), word) != not_said.end();
}

// An id is nothing to show while the record has a name. "a" is a word too.
inline bool is_raw_id(const Job& job, const std::string& word) {
    if (word == "a" || !Id::is_valid(word)) return false;
    const Id id(word);
    return job.kind_of(id) && name_of(job, id) != word;
}

// What is wrong with a text; nothing when it is well. `most`: of sentences; 0: any number, none included.
inline std::vector<std::string> faults_of(const Job& job, const std::string& text, std::size_t most) {
    std::vector<std::string> faults;
    if (text.empty()) {
        if (most > 0) faults.emplace_back("says nothing");
        return faults;
    }
    const std::vector<std::string> sentences = split_sentences(text);
    if (most > 0 && sentences.size() > most) faults.push_back("too many sentences: " + text);
    for (const std::string& sentence : sentences) {
        const std::vector<std::string> words = words_in(sentence);
        if (words.size() > 20) faults.push_back(std::to_string(words.size()) + " words: " + sentence);
        for (const std::string& word : words)
            if (is_shouted(word) || has_typed_minus(word) || is_not_said(word) || is_raw_id(job, word))
                faults.push_back(word + ": " + sentence);
    }
    return faults;
}

}  // namespace tapwright
