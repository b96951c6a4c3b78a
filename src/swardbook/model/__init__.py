"""The daily sward and weed model: pure functions of state, weather, management, parameters."""
