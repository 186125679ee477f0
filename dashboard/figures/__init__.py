"""Pictures: a result of the model becomes a Plotly figure, one file a chart."""
