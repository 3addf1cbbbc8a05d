#include "tests/print/outside.h"
#include "core/words/words.h"

#include <doctest/doctest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <fstream>
#include <iterator>
#include <sstream>
#include <variant>

namespace tapwright::outside {
namespace {

std::string unescaped(std::string text) {
    const std::array<std::array<const char*, 2>, 4> entities{
        {{"&lt;", "<"}, {"&gt;", ">"}, {"&quot;", "\""}, {"&amp;", "&"}}};
    for (const auto& [entity, plain] : entities)
        for (std::size_t at = 0; (at = text.find(entity, at)) != std::string::npos; ++at)
            text.replace(at, std::string(entity).size(), plain);
    return text;
}

double number_after(const std::string& line, const std::string& key) {
    const std::size_t at = line.find(key + "=\"");
    return at == std::string::npos ? 0 : std::stod(line.substr(at + key.size() + 2));
}

// pdftotext's boxes are as high as the font's ascent and descent, which neighbouring lines may share a little of.
constexpr double tolerance = 2.6;

bool overlap(const Word& a, const Word& b) {
    const double wide = std::min(a.right, b.right) - std::max(a.left, b.left);
    const double high = std::min(a.bottom, b.bottom) - std::max(a.top, b.top);
    return wide > 0.7 && high > tolerance;
}

}  // namespace

TemporaryFile::TemporaryFile(const std::string& bytes) {
    std::string pattern = (std::filesystem::temp_directory_path() / "print-test-XXXXXX").string();
    const int handle = mkstemp(pattern.data());
    REQUIRE(handle >= 0);
    close(handle);
    path_ = pattern;
    std::ofstream(path_, std::ios::binary) << bytes;
}

TemporaryFile::~TemporaryFile() {
    std::error_code ignored;
    std::filesystem::remove(path_, ignored);
}

std::string TemporaryFile::bytes() const {
    std::ifstream in(path_, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

Outcome run(const std::string& command) {
    FILE* pipe = popen((command + " 2>&1").c_str(), "r");
    REQUIRE(pipe != nullptr);
    Outcome outcome;
    std::array<char, 4096> piece{};
    for (std::size_t read = 0; (read = fread(piece.data(), 1, piece.size(), pipe)) > 0;)
        outcome.output.append(piece.data(), read);
    const int status = pclose(pipe);
    outcome.status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    return outcome;
}

print::Pdf rendered(const document::Document& document) {
    auto pdf = print::render_pdf_here(document);
    if (!pdf) FAIL(in_english(pdf.refusal()));
    return *pdf;
}

std::string text_of(const print::Pdf& pdf) {
    const TemporaryFile file(pdf.bytes);
    const Outcome outcome = run("pdftotext -q -raw -enc UTF-8 " + file.path() + " -");
    REQUIRE(outcome.status == 0);
    return outcome.output;
}

std::vector<std::string> pages_of(const print::Pdf& pdf) {
    std::vector<std::string> pages;
    std::istringstream all(text_of(pdf));
    for (std::string page; std::getline(all, page, '\f');) pages.push_back(page);
    return pages;
}

std::vector<Word> words_of(const print::Pdf& pdf) {
    const TemporaryFile file(pdf.bytes);
    const Outcome outcome = run("pdftotext -q -bbox -enc UTF-8 " + file.path() + " -");
    REQUIRE(outcome.status == 0);
    std::vector<Word> words;
    int page = -1;
    std::istringstream lines(outcome.output);
    for (std::string line; std::getline(lines, line);) {
        if (line.find("<page ") != std::string::npos) ++page;
        if (line.find("<word ") == std::string::npos) continue;
        const std::size_t begin = line.find('>') + 1;
        words.push_back({page, number_after(line, "xMin"), number_after(line, "yMin"), number_after(line, "xMax"),
                         number_after(line, "yMax"), unescaped(line.substr(begin, line.rfind("</word>") - begin))});
    }
    return words;
}

void check_places(const document::Document& document) {
    auto words = words_of(rendered(document));
    REQUIRE(!words.empty());
    const double width = document.paper == document::Paper::a4 ? 595.276 : 612;
    const double height = document.paper == document::Paper::a4 ? 841.89 : 792;
    for (const auto& word : words) {
        CAPTURE(word.text);
        CAPTURE(word.page);
        CHECK(word.left >= 42 - 1);
        CHECK(word.right <= width - 42 + 1);
        CHECK(word.top >= 40 - 4);
        CHECK(word.bottom <= height - 26);
    }
    std::sort(words.begin(), words.end(),
              [](const auto& a, const auto& b) { return a.page != b.page ? a.page < b.page : a.top < b.top; });
    for (std::size_t a = 0; a < words.size(); ++a) {
        for (std::size_t b = a + 1; b < words.size(); ++b) {
            if (words[b].page != words[a].page || words[b].top > words[a].bottom) break;
            CAPTURE(words[a].text);
            CAPTURE(words[b].text);
            CAPTURE(words[a].page);
            CHECK_FALSE(overlap(words[a], words[b]));
        }
    }
}

std::string squeezed(const std::string& text) {
    std::string out;
    for (std::size_t k = 0; k < text.size(); ++k) {
        const auto byte = static_cast<unsigned char>(text[k]);
        if (byte <= 0x20) continue;
        if (text.compare(k, 2, "\u00A0") == 0) {
            ++k;
            continue;
        }
        const std::string three = text.substr(k, 3);
        // U+200E, U+200F, U+202A to U+202E
        const bool direction = three == "\xE2\x80\x8E" || three == "\xE2\x80\x8F" ||
                               (three >= "\xE2\x80\xAA" && three <= "\xE2\x80\xAE" && three.size() == 3);
        if (direction) {
            k += 2;
            continue;
        }
        out += text[k];
    }
    return out;
}

std::vector<std::string> texts_in(const document::Document& document) {
    using namespace document;
    using document::Figure;
    std::vector<std::string> texts;
    for (const Block& block : document.blocks) {
        if (const auto* heading = std::get_if<Heading>(&block)) texts.push_back(heading->text);
        if (const auto* paragraph = std::get_if<Paragraph>(&block)) texts.push_back(paragraph->text);
        if (const auto* bullets = std::get_if<Bullets>(&block))
            texts.insert(texts.end(), bullets->items.begin(), bullets->items.end());
        if (const auto* facts = std::get_if<Facts>(&block)) {
            for (const auto& fact : facts->facts) {
                texts.push_back(fact.name);
                texts.push_back(fact.value);
            }
        }
        if (const auto* table = std::get_if<Table>(&block)) {
            texts.push_back(table->caption);
            for (const auto& column : table->columns) texts.push_back(column.title);
            for (const auto& row : table->rows)
                for (const auto& cell : row) texts.push_back(cell.text);
        }
        if (const auto* figure = std::get_if<Figure>(&block)) texts.push_back(figure->caption);
        if (const auto* labels = std::get_if<Labels>(&block))
            for (const auto& label : labels->labels) {
                texts.push_back(label.name);
                texts.insert(texts.end(), label.lines.begin(), label.lines.end());
            }
        if (const auto* signature = std::get_if<SignatureLine>(&block))
            texts.insert(texts.end(), {signature->role, signature->name, signature->date});
    }
    return texts;
}

}  // namespace tapwright::outside
