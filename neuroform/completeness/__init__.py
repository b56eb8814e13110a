"""What an examination lacks and where its findings do not fit."""
