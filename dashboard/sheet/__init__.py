"""The sheet to take home: one or two pages on paper, or a workbook; made for one request, nothing of it is kept."""
