// The PDF as others see it: poppler's pdftotext and pdfinfo, qpdf --check, and its objects through libqpdf.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "core/sheet/document.h"
#include "platform/print/pdf.h"

namespace tapwright::outside {

// A file that is gone when the test is over.
class TemporaryFile {
public:
    explicit TemporaryFile(const std::string& bytes = {});
    ~TemporaryFile();
    TemporaryFile(const TemporaryFile&) = delete;
    TemporaryFile& operator=(const TemporaryFile&) = delete;
    std::string path() const { return path_.string(); }
    std::string bytes() const;

private:
    std::filesystem::path path_;
};

struct Outcome {
    int status = -1;
    std::string output;  // standard output and standard error
};

Outcome run(const std::string& command);

// Renders, and requires that it went well.
print::Pdf rendered(const document::Document& document);

// In the order of the content, as pdftotext -raw gives it.
std::string text_of(const print::Pdf& pdf);
// One text a page.
std::vector<std::string> pages_of(const print::Pdf& pdf);

struct Word {
    int page;  // from 0
    double left;
    double top;
    double right;
    double bottom;
    std::string text;
};
std::vector<Word> words_of(const print::Pdf& pdf);

// Checks that every word stands inside the margins and over no other.
void check_places(const document::Document& document);

// `text` without white space, and without the marks for the direction of writing that pdftotext adds.
std::string squeezed(const std::string& text);

// Every text that a document says, in reading order; alternative texts are not among them.
std::vector<std::string> texts_in(const document::Document& document);

}  // namespace tapwright::outside
