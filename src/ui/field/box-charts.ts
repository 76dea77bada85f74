import box from 'plotly.js/lib/box';
import plotly from 'plotly.js/lib/core';

/** plotly.js with the one kind of chart that is used, in a chunk of its own that loads on demand. */
plotly.register([box]);

export default plotly;
