/** Saved and opened from anywhere, the page still loads nothing, runs nothing and sends nothing: style, pictures and fonts are within it. */
export const PAGE_POLICY =
  "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; base-uri 'none'; form-action 'none'\">";
