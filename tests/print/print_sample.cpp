// Writes one of the sample sheets as a PDF: print_sample handover|nasty|ROWS FILE
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <string>

#include "core/words/words.h"
#include "platform/print/pdf.h"
#include "tests/print/samples.h"

int main(int count, char** arguments) {
    if (count != 3) {
        std::fputs("Give a sample (handover, nasty, or a number of rows) and the file to write.\n", stderr);
        return 2;
    }
    const std::string name = arguments[1];
    const auto document = name == "handover" ? tapwright::samples::handover()
                          : name == "nasty"  ? tapwright::samples::nasty()
                                             : tapwright::samples::long_table(std::strtoul(name.c_str(), nullptr, 10));
    const auto pdf = tapwright::print::render_pdf_here(document);
    if (!pdf) {
        std::fprintf(stderr, "%s\n", in_english(pdf.refusal()).c_str());
        return 1;
    }
    std::ofstream out(arguments[2], std::ios::binary);
    out.write(pdf->bytes.data(), static_cast<std::streamsize>(pdf->bytes.size()));
    return out.flush() ? 0 : 1;
}
