"""The pages: ask and show. Every sum is the model's."""
